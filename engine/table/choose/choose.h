/* table/choose/choose.h: the words and units of a choice, the same in every output. */
#ifndef GRADIN_TABLE_CHOOSE_H
#define GRADIN_TABLE_CHOOSE_H

#include "gradin/studies/choose.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

/* As the show's file calls it: "seats", "clear_share" ... */
const char *table_ask_key(gradin_ask ask);
/* In tables: "%", "m", "s", ...; shares are percent there. */
const char *table_ask_unit(gradin_ask ask);
table_quantity table_ask_quantity(gradin_ask ask);
double table_ask_scale(gradin_ask ask); /* from SI to that unit */
/* "has it", "too near to tell", "lacks it" */
const char *table_must_word(gradin_verdict verdict);
const char *table_choice_verdict(gradin_verdict verdict); /* of a layout: "has all" ... */
const char *table_choice_layout(const gradin_choice *choice, int candidate);
/* Place of a candidate in the order, 1 the best. */
int table_choice_rank(const gradin_choice *choice, int candidate);
/* What a must-have is about, with the partner's name. */
void table_put_ask(table_text *out, const gradin_choice *choice, gradin_ask ask, int partner);

/* A figure for people: "53.1 %", "11:41 h", "18.64 m" (or ft). */
void table_put_asked(table_text *out, gradin_ask ask, double value, const char *units);
/* Without its unit. */
void table_put_bare(table_text *out, gradin_ask ask, double value, const char *units);
/* Rounded as tables are, to the side on which a changed need is kept. */
double table_ask_kept(gradin_ask ask, double value);
/* The same for people. */
void table_put_relaxed(table_text *out, gradin_ask ask, double value, const char *units);

/* choice_json.c: the must-haves of a layout, as "must". */
void table_json_musts(table_json *json, json_t *parent, const gradin_choice *choice,
                      const gradin_candidate *c);

/* verdict.c: what the choice comes to, in sentences; what would let a layout in. */
void table_choice_answer(table_text *out, const gradin_choice *choice);
void table_choice_lets_in(table_text *out, const gradin_choice *choice, int candidate);

/* detail.c: one layout: must-haves, seats held back, takings. */
void table_choice_detail(table_text *out, const gradin_choice *choice, int candidate);
/* basis.c: what moves the ranking, and what the figures stand on. */
void table_choice_weights(table_text *out, const gradin_choice *choice);
void table_choice_basis(table_text *out, const gradin_choice *choice);

#endif
