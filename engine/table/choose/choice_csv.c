/* A choice as RFC 4180: one line per layout, one per must-have of each, one per seat held back. */
#include "base/use.h"
#include "gradin/sightline.h"
#include "gradin/studies/choose_write.h"
#include "studies/shared/complete.h"
#include "table/choose/choose.h"

static void put_value(table_text *out, gradin_ask ask, double value) {
    table_put(out, ",");
    table_put_number(out, table_ask_quantity(ask), table_ask_scale(ask) * value);
}

static void put_head(table_text *out, const gradin_choice *choice) {
    table_put(out, "rank,layout,form,verdict,score,has_all_pct,first_pct,first_any_weights_pct,"
                   "miss,held_back");
    for (int k = GRADIN_ASK_SEATS; k < (int)GRADIN_N_ASK; k++) {
        const char *key = table_ask_key((gradin_ask)k);
        table_print(out, ",%s,%s_low,%s_high", key, key, key);
    }
    for (int k = 0; k < choice->show->n_wished; k++)
        table_print(out, ",worth_%s", table_ask_key(choice->show->wished[k].ask));
    table_put(out, "\r\n");
}

static void put_index(table_text *out, double value) {
    table_put(out, ",");
    table_put_number(out, TABLE_INDEX, value);
}

static void put_layout(table_text *out, const gradin_choice *choice, int place) {
    const gradin_candidate *c = &choice->candidate[choice->order[place]];
    table_print(out, "%d,", place + 1);
    table_put_quoted(out, c->model->layout_name);
    table_print(out, ",%s,%s", gradin_form_name(c->model->form), table_choice_verdict(c->verdict));
    put_index(out, choice->show->n_wished > 0 ? c->score : NAN);
    const double share[] = {c->meets_share, c->first_share, c->weight_share};
    for (int k = 0; k < 3; k++) {
        table_put(out, ",");
        table_put_number(out, TABLE_PERCENT, 100.0 * share[k]);
    }
    put_index(out, c->miss);
    table_print(out, ",%d", c->n_held);
    for (int k = GRADIN_ASK_SEATS; k < (int)GRADIN_N_ASK; k++) {
        put_value(out, (gradin_ask)k, c->figure[k].value);
        put_value(out, (gradin_ask)k, c->figure[k].low);
        put_value(out, (gradin_ask)k, c->figure[k].high);
    }
    for (int k = 0; k < choice->show->n_wished; k++) put_index(out, c->worth[k]);
    table_put(out, "\r\n");
}

static gradin_status finish(const table_text *out, char **text, size_t *size, gradin_error *error) {
    if (out->failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the choice");
    *text = out->bytes;
    *size = out->size;
    return GRADIN_OK;
}

gradin_status gradin_choice_csv(gradin_arena *arena, const gradin_choice *choice, char **text,
                                size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || choice_complete(choice, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(&out, choice);
    for (int k = 0; k < choice->n_candidate; k++) put_layout(&out, choice, k);
    return finish(&out, text, size, error);
}

static void put_must(table_text *out, const gradin_choice *choice, const gradin_candidate *c,
                     const gradin_must *m) {
    table_put_quoted(out, c->model->layout_name);
    table_print(out, ",%s,", table_ask_key(m->ask));
    if (m->partner >= 0) table_put_quoted(out, choice->show->partner[m->partner].name);
    table_print(out, ",%s", table_ask_unit(m->ask));
    const double value[] = {m->need,        m->figure.value, m->figure.low,
                            m->figure.high, m->margin,       table_ask_kept(m->ask, m->lets_in)};
    for (int k = 0; k < 6; k++) put_value(out, m->ask, value[k]);
    table_print(out, ",%s\r\n", table_must_word(m->verdict));
}

gradin_status gradin_choice_musts_csv(gradin_arena *arena, const gradin_choice *choice, char **text,
                                      size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || choice_complete(choice, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "layout,for,partner,unit,need,value,low,high,margin,lets_in,verdict\r\n");
    for (int k = 0; k < choice->n_candidate; k++) {
        const gradin_candidate *c = &choice->candidate[choice->order[k]];
        for (int i = 0; i < c->n_must; i++) put_must(&out, choice, c, &c->must[i]);
    }
    return finish(&out, text, size, error);
}

static void put_held(table_text *out, const gradin_candidate *c, int seat) {
    const gradin_sight *s = &c->assessment.sight;
    table_put_quoted(out, c->model->layout_name);
    table_put(out, ",");
    table_put_quoted(out, c->model->seats.id[seat]);
    table_print(out, ",%s,%s,%s\r\n", gradin_seat_kind_name(c->model->seats.kind[seat]),
                gradin_rating_name(s->rating[seat]), gradin_reason_name(s->reason[seat]));
}

gradin_status gradin_choice_held_csv(gradin_arena *arena, const gradin_choice *choice, char **text,
                                     size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || choice_complete(choice, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "layout,seat,kind,rating,reason\r\n");
    for (int k = 0; k < choice->n_candidate; k++) {
        const gradin_candidate *c = &choice->candidate[choice->order[k]];
        for (int i = 0; i < c->model->seats.n_seat; i++)
            if (c->is_held[i]) put_held(&out, c, i);
    }
    return finish(&out, text, size, error);
}
