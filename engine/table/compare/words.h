/* table/compare/words.h: the words and units of a comparison, the same in every output. */
#ifndef GRADIN_TABLE_COMPARE_WORDS_H
#define GRADIN_TABLE_COMPARE_WORDS_H

#include "gradin/studies/compare.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

/* "A", "B" ...: what a layout is called in tables. */
char table_compare_letter(int layout);
const char *table_compare_name(const gradin_comparison *c, int layout);
/* "focus seen", "C-value" ... */
const char *table_figure_name(gradin_figure figure);
/* "visible", "c" ...: begins the columns and keys of a figure, which table_figure_unit_key() ends
 * ("pct", "mm", "m", "deg", "db"). */
const char *table_figure_key(gradin_figure figure);
const char *table_figure_unit_key(gradin_figure figure);
table_quantity table_figure_quantity(gradin_figure figure);
/* From SI to that quantity. */
double table_figure_scale(gradin_figure figure);
/* As people read it, in "m" or "ft". */
length_unit table_figure_unit(gradin_figure figure, const char *units);
const char *table_matched_name(gradin_matched matched); /* "name", "place", "mirrored place", "" */
const char *table_effect_name(gradin_effect effect);    /* "better", "no difference" ..., "" */
const char *table_aim_name(gradin_aim aim);

/* verdict.c: what a pair comes to, in sentences; what all layouts come to beside each other. */
void table_compare_verdict(table_text *out, const gradin_comparison *c, int pair);
void table_compare_front(table_text *out, const gradin_comparison *c);

/* totals.c: what each layout offers, one row after the other; a label that belongs to the one
 * before begins with blanks. value [n_layout], in SI. */
typedef struct table_compare_rows {
    void (*row)(void *user, const gradin_comparison *c, const char *label, length_unit unit,
                const double *value);
    void *user;
} table_compare_rows;
void table_compare_totals(const gradin_comparison *c, const table_compare_rows *to);
bool table_compare_has_changeovers(const gradin_comparison *c);

/* text_pair.c: the tables of a pair for a terminal; of them, how the seats were matched and what
 * moved the classes, lines of text each; and the figure that tells most of a change. */
void table_compare_pair_text(table_text *out, const gradin_comparison *c, int pair);
void table_compare_match(table_text *out, const gradin_compared_pair *pair);
void table_compare_causes(table_text *out, const gradin_compared_pair *pair);
gradin_figure table_compare_reason(const gradin_seat_change *change);
/* The largest change told from none that any seat of the pair has to pass, in SI; NAN without. */
double table_compare_tells(const gradin_compared_pair *pair, gradin_figure figure);

/* json_pair.c */
void table_json_sums(table_json *json, json_t *parent, const gradin_seat_sums *sum);
void table_compare_pair_json(table_json *json, json_t *array, const gradin_comparison *c, int pair);

#endif
