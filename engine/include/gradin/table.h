/* gradin/table.h: results as CSV (RFC 4180) and JSON. Numbers are formatted in one place; computes
 * nothing.
 *
 * Ownership and threads: Texts live in the arena that is given, or become whole files; any number
 * of threads may write one result, each with an arena of its own. */
#ifndef GRADIN_TABLE_H
#define GRADIN_TABLE_H

#include "gradin/acoustics/glazing.h"
#include "gradin/acoustics/noise_rating.h"
#include "gradin/studies.h"
#include "gradin/studies/changeover.h"
#include "gradin/studies/draft.h"
#include "gradin/studies/fit.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A table of lengths: SI, or feet: columns NAME_m are NAME_ft then (0.001 ft), NAME_mm are NAME_in
 * (0.01 in). */
typedef enum gradin_csv_units { GRADIN_CSV_SI, GRADIN_CSV_FEET } gradin_csv_units;
/* The seat table as text in the arena: one header line with units in the names, one line per seat.
 */
GRADIN_API gradin_status gradin_seats_csv(gradin_arena *arena, const gradin_assessment *assessment,
                                          gradin_csv_units units, char **text, size_t *size,
                                          gradin_error *error);
/* The plan of a layout with the figures of every seat for other programs, in metres from the plan
 * origin: a drawing with layers (DXF, ASCII, release AC1009), in which a seat is an insert with
 * attributes; data (GeoJSON, RFC 7946, local coordinates); and what such a file holds, counted, as
 * JSON (schema in reference/export-schema.json). */
GRADIN_API gradin_status gradin_hall_dxf(gradin_arena *arena, const gradin_assessment *assessment,
                                         char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_hall_geojson(gradin_arena *arena,
                                             const gradin_assessment *assessment, char **text,
                                             size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_hall_json(gradin_arena *arena, const gradin_assessment *assessment,
                                          const char *file, char **text, size_t *size,
                                          gradin_error *error);
/* The summary as JSON text in the arena; schema in reference/summary-schema.json. */
GRADIN_API gradin_status gradin_summary_json(gradin_arena *arena,
                                             const gradin_assessment *assessment, char **text,
                                             size_t *size, gradin_error *error);
/* The one-screen summary for a terminal, at most 80 columns wide, in the arena. */
GRADIN_API gradin_status gradin_summary_text(gradin_arena *arena,
                                             const gradin_assessment *assessment, char **text,
                                             gradin_error *error);
/* The columns of the seat table that a client reads, at most twelve, for a spreadsheet: a column in
 * which no seat has anything is left out, a cell without anything says "none". */
GRADIN_API gradin_status gradin_seats_short_csv(gradin_arena *arena,
                                                const gradin_assessment *assessment,
                                                gradin_csv_units units, char **text, size_t *size,
                                                gradin_error *error);
/* seats.csv, seats_short.csv and summary.json written into folder dir (which exists), whole or not
 * at all; the seat tables in the units wanted. */
GRADIN_API gradin_status gradin_tables_write(const gradin_assessment *assessment,
                                             gradin_csv_units units, const char *dir,
                                             gradin_error *error);
/* A rake row by row as CSV, and its summary for a terminal; lines: what sets it in the layout's
 * file (gradin_lift_settings_write(), gradin_block_rises_write()). */
GRADIN_API gradin_status gradin_rake_csv(gradin_arena *arena, const gradin_rake *rake,
                                         gradin_csv_units units, char **text, size_t *size,
                                         gradin_error *error);
GRADIN_API gradin_status gradin_rake_text(gradin_arena *arena, const gradin_rake *rake,
                                          const char *lines, char **text, gradin_error *error);
/* The same as JSON; schema in reference/rake-schema.json. */
GRADIN_API gradin_status gradin_rake_json(gradin_arena *arena, const gradin_rake *rake, char **text,
                                          size_t *size, gradin_error *error);
/* Rails and overhangs: one line per seat, one line per row, and the summary. No height below the
 * venue's own minimum rail is ever printed. */
GRADIN_API gradin_status gradin_rails_csv(gradin_arena *arena, const gradin_model *model,
                                          const gradin_rail_limits *limits, gradin_csv_units units,
                                          char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_overhangs_csv(gradin_arena *arena, const gradin_model *model,
                                              const gradin_overhangs *overhangs,
                                              gradin_csv_units units, char **text, size_t *size,
                                              gradin_error *error);
GRADIN_API gradin_status gradin_rails_text(gradin_arena *arena, const gradin_model *model,
                                           const gradin_rail_limits *limits,
                                           const gradin_overhangs *overhangs, char **text,
                                           gradin_error *error);
/* The same as JSON; schema in reference/rails-schema.json. */
GRADIN_API gradin_status gradin_rails_json(gradin_arena *arena, const gradin_model *model,
                                           const gradin_rail_limits *limits,
                                           const gradin_overhangs *overhangs, char **text,
                                           size_t *size, gradin_error *error);

/* What gradin_file_check() or gradin_file_check_by() said of one file. path is required; kind when
 * the status is GRADIN_OK. */
typedef struct gradin_checked_file {
    const char *path, *kind;
    gradin_status status;
    gradin_error error;
} gradin_checked_file;

/* file [n_file] as JSON; schema in reference/check-schema.json. */
GRADIN_API gradin_status gradin_check_json(gradin_arena *arena, const gradin_checked_file *file,
                                           int n_file, char **text, size_t *size,
                                           gradin_error *error);

/* A comparison of build-ups: R by band as CSV, one column per curve; everything as JSON; a table of
 * at most 80 columns for a terminal. */
GRADIN_API gradin_status gradin_glazing_csv(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                            char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_glazing_json(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                             char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_glazing_text(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                             char **text, gradin_error *error);
/* glazing.csv and glazing.json into folder dir (which exists), whole or not at all. */
GRADIN_API gradin_status gradin_glazing_tables_write(const gradin_glazing_sheet *sheet,
                                                     const char *dir, gradin_error *error);

/* Ratings of spectra of noise, for a terminal, and as JSON; schema in
 * reference/spectrum-schema.json. */
GRADIN_API gradin_status gradin_spectra_text(gradin_arena *arena,
                                             const gradin_spectrum_sheet *sheet, char **text,
                                             gradin_error *error);
GRADIN_API gradin_status gradin_spectra_json(gradin_arena *arena,
                                             const gradin_spectrum_sheet *sheet, char **text,
                                             size_t *size, gradin_error *error);

/* A changeover. */

/* The move list for a crew chief, at most 80 columns wide, with cautions. */
GRADIN_API gradin_status gradin_changeover_text(gradin_arena *arena,
                                                const gradin_changeover *changeover, char **text,
                                                gradin_error *error);
/* One line per move (RFC 4180). */
GRADIN_API gradin_status gradin_changeover_csv(gradin_arena *arena,
                                               const gradin_changeover *changeover, char **text,
                                               size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_changeover_json(gradin_arena *arena,
                                                const gradin_changeover *changeover, char **text,
                                                size_t *size, gradin_error *error);
/* An event per move and per stop (RFC 5545). GRADIN_BAD_USE without a start. */
GRADIN_API gradin_status gradin_changeover_ical(gradin_arena *arena,
                                                const gradin_changeover *changeover, char **text,
                                                size_t *size, gradin_error *error);
/* Hours from each of n layouts (lines) to each (columns), with cautions; changeover [n][n]. */
GRADIN_API gradin_status gradin_matrix_text(gradin_arena *arena,
                                            const gradin_changeover *changeover, int n, char **text,
                                            gradin_error *error);
/* The same as JSON, without the pairs of a layout with itself; schema in
 * reference/changeover-matrix-schema.json. */
GRADIN_API gradin_status gradin_matrix_json(gradin_arena *arena,
                                            const gradin_changeover *changeover, int n, char **text,
                                            size_t *size, gradin_error *error);

/* A draft. */

GRADIN_API gradin_status gradin_draft_text(gradin_arena *arena, const gradin_draft *draft,
                                           char **text, gradin_error *error);
/* The same as JSON; schema in reference/draft-schema.json. */
GRADIN_API gradin_status gradin_draft_json(gradin_arena *arena, const gradin_draft *draft,
                                           char **text, size_t *size, gradin_error *error);

/* Rough checks. */

GRADIN_API gradin_status gradin_fit_text(gradin_arena *arena, const gradin_fit *fit, char **text,
                                         gradin_error *error);
GRADIN_API gradin_status gradin_fit_json(gradin_arena *arena, const gradin_fit *fit, char **text,
                                         size_t *size, gradin_error *error);
/* One line per row and per place for a wheelchair; the checks have their routes. */
GRADIN_API gradin_status gradin_routes_csv(gradin_arena *arena, const gradin_fit *fit,
                                           gradin_csv_units units, char **text, size_t *size,
                                           gradin_error *error);
/* One line per open edge. */
GRADIN_API gradin_status gradin_edges_csv(gradin_arena *arena, const gradin_fit *fit,
                                          gradin_csv_units units, char **text, size_t *size,
                                          gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
