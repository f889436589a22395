/* gradin/studies/compare_write.h: layouts compared, as tables.
 *
 * Ownership and threads: Texts live in the arena that is given, or become whole files; any number
 * of threads may write one comparison, each with an arena of its own. */
#ifndef GRADIN_COMPARE_WRITE_H
#define GRADIN_COMPARE_WRITE_H

#include "gradin/studies/compare.h"
#include "gradin/table.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One line per seat of the first layout beside each other one, and per seat that only the other
 * has; everything as JSON (schema in reference/compare-schema.json); the verdict and the tables for
 * a terminal, at most 80 columns. Texts in the arena. */
GRADIN_API gradin_status gradin_compare_csv(gradin_arena *arena,
                                            const gradin_comparison *comparison,
                                            gradin_csv_units units, char **text, size_t *size,
                                            gradin_error *error);
GRADIN_API gradin_status gradin_compare_json(gradin_arena *arena,
                                             const gradin_comparison *comparison, char **text,
                                             size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_compare_text(gradin_arena *arena,
                                             const gradin_comparison *comparison, char **text,
                                             gradin_error *error);
/* What the pair comes to, in sentences. Text in the arena. */
GRADIN_API gradin_status gradin_compare_verdict_text(gradin_arena *arena,
                                                     const gradin_comparison *comparison, int pair,
                                                     char **text, gradin_error *error);
/* compare.csv, in the units wanted, and compare.json into folder dir (which exists). */
GRADIN_API gradin_status gradin_compare_tables_write(const gradin_comparison *comparison,
                                                     gradin_csv_units units, const char *dir,
                                                     gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
