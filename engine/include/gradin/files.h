/* gradin/files.h: reading what a user writes: venues, layouts, briefs, traffic, wishes (YAML), seat
 * lists, measured glazing, tracks and events (CSV), shapes of solids (OBJ, STL). All that is read
 * lives in the arena. Every complaint names file, line, column and key. Reads of different arenas
 * may run in different threads. */
#ifndef GRADIN_FILES_H
#define GRADIN_FILES_H

#include "gradin/model.h"
#include "gradin/traffic.h"
#include "gradin/wishes.h"

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

/* The same from a text that stands for the file of that path; NULL reads the file. */
GRADIN_API gradin_status gradin_model_read_text(gradin_arena *arena, const char *layout_path,
                                                const char *text, gradin_model *model,
                                                gradin_error *error);

/* Checks any one input file (venue, layout, overflight, traffic, brief or wishes, told by its
 * `format` key); a layout is built as by gradin_model_read(). *kind (may be NULL) gets its English
 * name. */
GRADIN_API gradin_status gradin_file_check(const char *path, const char **kind,
                                           gradin_error *error);

/* Those of a venue file; n_name > 0 picks some by name, in that order. */
GRADIN_API gradin_status gradin_buildups_read(gradin_arena *arena, const char *venue_path,
                                              const char *const *name, int n_name,
                                              gradin_buildups *found, gradin_error *error);
/* One measured build-up from a CSV file of band values; bands that it lacks are NAN. */
GRADIN_API gradin_status gradin_curve_read(gradin_arena *arena, const char *csv_path,
                                           gradin_buildups *found, gradin_error *error);

/* Replaces the thresholds of a model by those of a brief file. */
GRADIN_API gradin_status gradin_brief_read(gradin_arena *arena, const char *brief_path,
                                           gradin_model *model, gradin_error *error);

/* Reads a traffic file and those that it names. With skip_bad a bad row of the events is left out
 * and told in `skipped` (may be NULL), otherwise it is an error; every one is named with its line.
 */
GRADIN_API gradin_status gradin_traffic_read(gradin_arena *arena, const char *path, bool skip_bad,
                                             gradin_traffic *traffic, gradin_error *skipped,
                                             gradin_error *error);

GRADIN_API gradin_status gradin_wishes_read(gradin_arena *arena, const char *path,
                                            gradin_wishes *wishes, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
