/* Two layouts seat by seat, for a terminal. */
#include "table/compare/words.h"

#include <stdlib.h>

enum { NAME_COLUMNS = 17 }; /* of a seat, at most */

double table_compare_tells(const gradin_compared_pair *pair, gradin_figure figure) {
    double most = NAN;
    for (int i = 0; i < pair->n_change; i++)
        if (isfinite(pair->change[i].change[figure]))
            most = fmax(most, pair->change[i].tells[figure]);
    return most;
}

void table_compare_match(table_text *out, const gradin_compared_pair *pair) {
    const gradin_change_sums *all = &pair->all;
    char letter[2] = {table_compare_letter(pair->first), table_compare_letter(pair->second)};
    table_print(out, "%c beside %c: ", letter[1], letter[0]);
    for (int k = GRADIN_MATCHED_NAME; k < (int)GRADIN_N_MATCHED; k++)
        if (all->n_matched[k] > 0)
            table_print(out, "%d seats matched by %s, ", all->n_matched[k],
                        table_matched_name((gradin_matched)k));
    table_print(out, "%d only in %c, %d only in %c", all->n_alone[0], letter[0], all->n_alone[1],
                letter[1]);
    if (pair->n_elsewhere > 0)
        table_print(out, "; %d of the same name stand elsewhere", pair->n_elsewhere);
    if (pair->is_mirror_found) table_put(out, "; the seats show that one mirrors the other");
    table_put(out, "\n");
}

static void put_block(table_text *out, const gradin_comparison *c, const gradin_compared_pair *pair,
                      const char *name, int block) {
    const gradin_change_sums *sum = block < 0 ? &pair->all : &pair->block[block];
    const gradin_compared_layout *side[2] = {&c->layout[pair->first], &c->layout[pair->second]};
    const int *noise = sum->n_effect[GRADIN_FIGURE_LAMAX];
    if (block >= 0 && side[0]->block[block].n_seat + side[1]->block[block].n_seat == 0) return;
    table_put(out, "  ");
    table_put_fitted(out, name, 20, true);
    const gradin_seat_sums *own[2];
    for (int of = 0; of < 2; of++) own[of] = block < 0 ? &side[of]->all : &side[of]->block[block];
    table_print(out, "%5d%5d%4d%4d", own[0]->n_seat, own[1]->n_seat, own[0]->n_wheelchair,
                own[1]->n_wheelchair);
    table_print(out, "%7d%6d%6d%8d%6d%7d\n", sum->n_better, sum->n_same, sum->n_worse,
                noise[GRADIN_EFFECT_BETTER], noise[GRADIN_EFFECT_SAME], noise[GRADIN_EFFECT_WORSE]);
}

static void put_blocks(table_text *out, const gradin_comparison *c,
                       const gradin_compared_pair *pair, const char letter[2]) {
    table_print(
        out, "                          seats wheelch.   class of rating           overflight\n");
    table_print(out, "  block             %7c%5c%4c%4c better  same worse quieter  same louder\n",
                letter[0], letter[1], letter[0], letter[1]);
    for (int k = 0; k < c->n_block; k++) put_block(out, c, pair, c->block_name[k], k);
    put_block(out, c, pair, "all", -1);
}

void table_compare_causes(table_text *out, const gradin_compared_pair *pair) {
    const gradin_change_sums *all = &pair->all;
    char letter = table_compare_letter(pair->second);
    for (int is_better = 1; is_better >= 0; is_better--) {
        int n = 0;
        for (int k = 0; k < GRADIN_N_FIGURE; k++) {
            if (all->n_cause[is_better][k] == 0) continue;
            if (n++ == 0)
                table_print(out, "  a %s class in %c, by the figure that sets it: ",
                            is_better ? "better" : "worse", letter);
            else
                table_put(out, ", ");
            table_print(out, "%s %d", table_figure_name((gradin_figure)k),
                        all->n_cause[is_better][k]);
        }
        if (n > 0) table_put(out, "\n");
    }
}

static void put_figures(table_text *out, const gradin_comparison *c,
                        const gradin_compared_pair *pair, const char letter[2]) {
    const char *units = c->layout[0].assessment->model->units;
    table_print(out,
                "\n  each figure by itself in %c    better  no difference   worse  told from\n",
                letter[1]);
    for (int k = 0; k < GRADIN_N_FIGURE; k++) {
        const int *n = pair->all.n_effect[k];
        double tells = table_compare_tells(pair, (gradin_figure)k);
        if (!isfinite(tells)) continue;
        table_put(out, "  ");
        table_put_fitted(out, table_figure_name((gradin_figure)k), 28, true);
        table_print(out, "%7d%15d%8d  ", n[GRADIN_EFFECT_BETTER], n[GRADIN_EFFECT_SAME],
                    n[GRADIN_EFFECT_WORSE]);
        table_put_length(out, tells, table_figure_unit((gradin_figure)k, units));
        table_put(out, "\n");
    }
}

static void put_values(table_text *out, const gradin_seat_change *change, gradin_figure figure,
                       const char *units) {
    length_unit unit = table_figure_unit(figure, units);
    table_print(out, "%s ", figure == GRADIN_FIGURE_VISIBLE ? "sees" : table_figure_name(figure));
    table_put_length_number(out, change->value[0][figure], unit);
    table_put(out, " -> ");
    table_put_length(out, change->value[1][figure], unit);
}

static bool is_told(const gradin_seat_change *change, gradin_figure figure) {
    return change->effect[figure] == GRADIN_EFFECT_WORSE ||
           change->effect[figure] == GRADIN_EFFECT_BETTER;
}

/* The figure that moved the class; else what is seen; else the level. */
gradin_figure table_compare_reason(const gradin_seat_change *change) {
    if (change->steps != 0) return change->cause;
    return is_told(change, GRADIN_FIGURE_VISIBLE) ? GRADIN_FIGURE_VISIBLE : GRADIN_FIGURE_LAMAX;
}

/* What hides more or less of the focus than before, and by how many points. */
static void put_hidden(table_text *out, const gradin_seat_change *change) {
    double points = 100.0 * change->hidden_change;
    if (table_compare_reason(change) != GRADIN_FIGURE_VISIBLE || !(fabs(points) >= 0.05)) return;
    table_print(out, "; %s %s", gradin_cause_name(change->hidden), points > 0.0 ? "+" : "");
    table_put_number(out, TABLE_PERCENT, points);
}

/* Columns that the names of the listed seats of one side take. */
static int name_columns(const gradin_comparison *c, const gradin_compared_pair *pair, int side) {
    int layout = side == 0 ? pair->first : pair->second, most = 0;
    const gradin_seats *seats = &c->layout[layout].assessment->model->seats;
    for (int k = 0; k < pair->n_largest; k++) {
        int own = table_columns(seats->id[pair->change[pair->largest[k]].seat[side]]);
        most = own > most ? own : most;
    }
    return most < NAME_COLUMNS ? most : NAME_COLUMNS;
}

static void put_change(table_text *out, const gradin_comparison *c,
                       const gradin_compared_pair *pair, const gradin_seat_change *change) {
    const gradin_assessment *a = c->layout[pair->first].assessment,
                            *b = c->layout[pair->second].assessment;
    table_put(out, "  ");
    table_put_fitted(out, a->model->seats.id[change->seat[0]], name_columns(c, pair, 0), true);
    if (change->matched != GRADIN_MATCHED_NAME) {
        table_put(out, " = ");
        table_put_fitted(out, b->model->seats.id[change->seat[1]], name_columns(c, pair, 1), true);
    }
    table_print(out, " %5s -> %-5s  ", gradin_rating_name(a->sight.rating[change->seat[0]]),
                gradin_rating_name(b->sight.rating[change->seat[1]]));
    put_values(out, change, table_compare_reason(change), a->model->units);
    put_hidden(out, change);
    table_put(out, "\n");
}

void table_compare_pair_text(table_text *out, const gradin_comparison *c, int p) {
    const gradin_compared_pair *pair = &c->pair[p];
    char letter[2] = {table_compare_letter(pair->first), table_compare_letter(pair->second)};
    table_put(out, "\n");
    table_compare_match(out, pair);
    put_blocks(out, c, pair, letter);
    table_compare_causes(out, pair);
    put_figures(out, c, pair, letter);
    if (pair->n_largest == 0) return;
    table_print(out, "\n  the largest changes from %c to %c; what hides more or less, in points\n",
                letter[0], letter[1]);
    for (int k = 0; k < pair->n_largest; k++)
        put_change(out, c, pair, &pair->change[pair->largest[k]]);
}
