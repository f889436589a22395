/* gradin/files.h: reading what a user writes: venues, layouts, briefs, traffic, wishes, programmes,
 * shows, studies (YAML), seat lists, measured glazing, spectra of noise, tracks, events and points
 * outside (CSV), shapes of solids (OBJ, STL). Every complaint names file, line, column and key.
 *
 * Ownership and threads: All that is read lives in the arena that is given; reads of different
 * arenas may run in different threads. */
#ifndef GRADIN_FILES_H
#define GRADIN_FILES_H

#include "gradin/acoustics/spectrum.h"
#include "gradin/acoustics/traffic.h"
#include "gradin/model.h"
#include "gradin/programme.h"
#include "gradin/show.h"
#include "gradin/studies/outside.h"
#include "gradin/study_inputs.h"
#include "gradin/wishes.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Reads a venue, complete and checked. */
GRADIN_API gradin_status gradin_venue_read(gradin_arena *arena, const char *venue_path,
                                           gradin_venue *venue, gradin_error *error);

/* Reads a layout and the venue that it names. */
GRADIN_API gradin_status gradin_layout_read(gradin_arena *arena, const char *layout_path,
                                            gradin_venue *venue, gradin_layout *layout,
                                            gradin_error *error);

/* Reads the layout, its venue and the files they name, checks everything and builds the model into
 * the arena. All errors of a file come at once (up to GRADIN_MAX_DIAGNOSTIC). */
GRADIN_API gradin_status gradin_model_read(gradin_arena *arena, const char *layout_path,
                                           gradin_model *model, gradin_error *error);

/* Reads n layouts into model[n]; a venue file that several of them name by the same path is read
 * once. Stops at the first that cannot be read. */
GRADIN_API gradin_status gradin_models_read(gradin_arena *arena, const char *const *layout_path,
                                            int n, gradin_model *model, gradin_error *error);

/* One layout from a text that stands for the file of that path; NULL reads the file. */
GRADIN_API gradin_status gradin_model_read_text(gradin_arena *arena, const char *layout_path,
                                                const char *text, gradin_model *model,
                                                gradin_error *error);

/* Checks any one input file (venue, layout, overflight, traffic, brief, wishes, programme,
 * show or study, told by its `format` key); a layout is built as by gradin_model_read(). dash_fd:
 * what the name "-" means, as for gradin_arena_read_dash(). *kind (may be NULL) gets its English
 * name. */
GRADIN_API gradin_status gradin_file_check(const char *path, int dash_fd, const char **kind,
                                           gradin_error *error);

/* What more to ask of a layout whose model could be built, such as gradin_noise_check(). */
typedef gradin_status (*gradin_model_judge)(gradin_arena *arena, const gradin_model *model,
                                            gradin_error *error);

/* gradin_file_check() with that: `judge` may be NULL, *kind too. */
GRADIN_API gradin_status gradin_file_check_by(const char *path, int dash_fd,
                                              gradin_model_judge judge, const char **kind,
                                              gradin_error *error);

/* Those of a venue file; n_name > 0 picks some by name, in that order. */
GRADIN_API gradin_status gradin_buildups_read(gradin_arena *arena, const char *venue_path,
                                              const char *const *name, int n_name,
                                              gradin_buildups *found, gradin_error *error);
/* One measured build-up from a CSV file of band values; bands that it lacks are NAN. */
GRADIN_API gradin_status gradin_curve_read(gradin_arena *arena, const char *csv_path,
                                           gradin_buildups *found, gradin_error *error);

/* Spectra of noise from a CSV file: a first line "band_hz,NAME,..." and one line per nominal band,
 * levels in dB, empty where a spectrum has none. Each is a run of thirds or octaves without a hole.
 */
GRADIN_API gradin_status gradin_spectra_read(gradin_arena *arena, const char *csv_path,
                                             gradin_spectra *spectra, gradin_error *error);
/* One spectrum from texts "BAND=LEVEL", pair[n_pair], such as "63=47". */
GRADIN_API gradin_status gradin_spectrum_take(gradin_arena *arena, const char *const *pair,
                                              int n_pair, gradin_spectra *spectra,
                                              gradin_error *error);

/* Replaces the thresholds of a model by those of a brief file. */
GRADIN_API gradin_status gradin_brief_read(gradin_arena *arena, const char *brief_path,
                                           gradin_model *model, gradin_error *error);

/* Reads a traffic file and those that it names. With skip_bad a bad row of the events is left out
 * and told in `skipped` (may be NULL), otherwise it is an error; every one is named with its line.
 */
GRADIN_API gradin_status gradin_traffic_read(gradin_arena *arena, const char *path, bool skip_bad,
                                             gradin_traffic *traffic, gradin_error *skipped,
                                             gradin_error *error);

/* Reads points outside from a CSV file "name,x,y,z", lengths in units "m" or "ft". */
GRADIN_API gradin_status gradin_outside_read(gradin_arena *arena, const char *csv_path,
                                             const char *units, gradin_outside *outside,
                                             gradin_error *error);

GRADIN_API gradin_status gradin_wishes_read(gradin_arena *arena, const char *path,
                                            gradin_wishes *wishes, gradin_error *error);

/* Reads a programme. The layouts that it names are not read: their paths come as seen from here. */
GRADIN_API gradin_status gradin_programme_read(gradin_arena *arena, const char *path,
                                               gradin_programme *programme, gradin_error *error);

/* Reads a show. The files that it names are not read: their paths come as seen from here. */
GRADIN_API gradin_status gradin_show_read(gradin_arena *arena, const char *path, gradin_show *show,
                                          gradin_error *error);

/* Reads a study. The files that it names are not read: their paths come as seen from here. */
GRADIN_API gradin_status gradin_study_read(gradin_arena *arena, const char *path,
                                           gradin_study *study, gradin_error *error);

/* The files of a study with the values of a point in them; point -1: as they are. GRADIN_BAD_INPUT
 * where they cannot stand so: the diagnostics say why. */
GRADIN_API gradin_status gradin_study_point_read(gradin_arena *arena, const gradin_study *study,
                                                 int point, gradin_study_inputs *inputs,
                                                 gradin_error *error);

/* Text of files for what is in memory; it reads back as the same figures. */
typedef struct gradin_write_options {
    const char *head; /* comment lines before all else, each with its # and line end; may be NULL */
    bool is_rounded; /* numbers get at most `decimals`; without, as many as it takes to read back */
    int decimals;
} gradin_write_options;

/* A complete venue as its file, in units "m" or "ft" (NULL: m). The text lies in the arena; options
 * may be NULL. GRADIN_BAD_USE, with the reason in `error`, for what no file can state: a mesh
 * without its source, a measurement without its measured_file. */
GRADIN_API gradin_status gradin_venue_write(gradin_arena *arena, const gradin_venue *venue,
                                            const char *units, const gradin_write_options *options,
                                            char **text, gradin_error *error);

/* Names that the layout's file gives to others, as seen from it. */
typedef struct gradin_layout_files {
    const char *venue;      /* required */
    const char *brief;      /* NULL: the limits are written into the layout */
    const char *overflight; /* required where the layout has a pass */
} gradin_layout_files;

/* A layout as its file, in its own units. Lift sections with like settings stand in one entry, what
 * is parked is left out. GRADIN_BAD_USE as above, and for listed seats without their list_file. */
GRADIN_API gradin_status gradin_layout_write(gradin_arena *arena, const gradin_venue *venue,
                                             const gradin_layout *layout,
                                             const gradin_layout_files *files,
                                             const gradin_write_options *options, char **text,
                                             gradin_error *error);

/* What is wished for a show beside what it states. */
typedef struct gradin_show_wishes {
    gradin_form form;
    const char *venue_path; /* as seen from here */
    int n_seat;             /* 0: as many as possible */
    int n_wheelchair;       /* -1: by the count table */
} gradin_show_wishes;

/* What a show asks of a layout that is not there yet, as the file of wishes (gradin/wishes.h) at
 * wishes_path, whose folder must be there: its acting area as a stage of the form. GRADIN_BAD_INPUT
 * for a show that states no acting area. */
GRADIN_API gradin_status gradin_show_wishes_write(gradin_arena *arena, const gradin_show *show,
                                                  const gradin_show_wishes *as,
                                                  const char *wishes_path, char **text,
                                                  gradin_error *error);

/* A layout drafted from wishes (gradin/studies/draft.h) as the file of layout_path, rounded to a
 * tenth of a millimetre, with what to mind at its head. GRADIN_BAD_INPUT when a file that the
 * wishes name cannot be seen from there. */
GRADIN_API gradin_status gradin_draft_write(gradin_arena *arena, const gradin_wishes *wishes,
                                            const gradin_layout *layout, const char *layout_path,
                                            char **text, gradin_error *error);

/* Parts of a layout for somebody who edits one, each entry on a line of its own, indented as in the
 * file: entries of machines.lifts; base and riser of a block, rise_m[n_row] with the first row's
 * above the base; one entry of rails. units NULL is metres, options NULL is every digit. */
GRADIN_API gradin_status gradin_lift_settings_write(gradin_arena *arena,
                                                    const gradin_lift_setting *setting,
                                                    int n_setting, const char *units,
                                                    const gradin_write_options *options,
                                                    char **text, gradin_error *error);
GRADIN_API gradin_status gradin_block_rises_write(gradin_arena *arena, double base_m,
                                                  const double *rise_m, int n_row,
                                                  const char *units,
                                                  const gradin_write_options *options, char **text,
                                                  gradin_error *error);
GRADIN_API gradin_status gradin_rail_write(gradin_arena *arena, const gradin_rail_entry *rail,
                                           const char *units, const gradin_write_options *options,
                                           char **text, gradin_error *error);

/* ISO 8601: YYYY-MM-DDThh:mm, with :ss when has_seconds; local, from 1970 on, in seconds since
 * then. False for anything else. */
GRADIN_API bool gradin_date_parse(const char *text, bool has_seconds, int64_t *time_s);

#ifdef __cplusplus
}
#endif

#endif
