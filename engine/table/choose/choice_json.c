/* A choice as JSON (reference/choose-schema.json). */
#include "base/use.h"
#include "gradin/sightline.h"
#include "gradin/studies/choose_write.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/choose/choose.h"
#include "table/shared/cautions.h"
#include "table/shared/date.h"
#include "table/shared/gaps.h"
#include "table/shared/report.h"

static void put_value(table_json *json, json_t *parent, const char *key, gradin_ask ask,
                      double value) {
    table_json_number(json, parent, key, table_ask_quantity(ask), table_ask_scale(ask) * value);
}

static void put_known(table_json *json, json_t *parent, gradin_ask ask, const gradin_asked *f) {
    put_value(json, parent, "value", ask, f->value);
    put_value(json, parent, "low", ask, f->low);
    put_value(json, parent, "high", ask, f->high);
}

static const char *partner_name(const gradin_choice *choice, int partner) {
    return partner >= 0 ? choice->show->partner[partner].name : NULL;
}

void table_json_musts(table_json *json, json_t *parent, const gradin_choice *choice,
                      const gradin_candidate *c) {
    json_t *array = table_json_array(json, parent, "must");
    for (int k = 0; k < c->n_must; k++) {
        const gradin_must *m = &c->must[k];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "for", table_ask_key(m->ask));
        table_json_text(json, object, "partner", partner_name(choice, m->partner));
        table_json_text(json, object, "unit", table_ask_unit(m->ask));
        put_value(json, object, "need", m->ask, m->need);
        put_known(json, object, m->ask, &m->figure);
        put_value(json, object, "margin", m->ask, m->margin);
        put_value(json, object, "lets_in", m->ask, table_ask_kept(m->ask, m->lets_in));
        table_json_text(json, object, "verdict", table_must_word(m->verdict));
    }
}

static void put_figures(table_json *json, json_t *parent, const gradin_candidate *c) {
    json_t *figures = table_json_object(json, parent, "figures");
    for (int k = GRADIN_ASK_SEATS; k < (int)GRADIN_N_ASK; k++) {
        if (isnan(c->figure[k].value)) {
            table_json_null(json, figures, table_ask_key((gradin_ask)k));
            continue;
        }
        json_t *object = table_json_object(json, figures, table_ask_key((gradin_ask)k));
        put_known(json, object, (gradin_ask)k, &c->figure[k]);
        table_json_text(json, object, "unit", table_ask_unit((gradin_ask)k));
    }
}

static void put_held(table_json *json, json_t *parent, const gradin_candidate *c) {
    json_t *held = table_json_object(json, parent, "held_back");
    table_json_integer(json, held, "seats", c->n_held);
    table_json_integer(json, held, "wheelchairs", c->n_held_wheelchair);
    json_t *reasons = table_json_object(json, held, "reasons");
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++)
        if (c->n_held_reason[k] > 0)
            table_json_integer(json, reasons, gradin_reason_name((gradin_reason)k),
                               c->n_held_reason[k]);
}

static void put_sales(table_json *json, json_t *parent, const gradin_choice *choice,
                      const gradin_candidate *c) {
    json_t *array = table_json_array(json, parent, "sales");
    for (int k = 0; k <= choice->show->n_price && choice->show->n_price > 0; k++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "price",
                        k < choice->show->n_price ? choice->show->price[k].name : NULL);
        table_json_integer(json, object, "seats", c->sale[k].n_seat);
        table_json_number(json, object, "takings", TABLE_AREA, c->sale[k].takings);
    }
}

static void put_changeovers(table_json *json, json_t *parent, const gradin_choice *choice,
                            const gradin_candidate *c) {
    json_t *array = table_json_array(json, parent, "changeovers");
    for (int k = 0; k < choice->show->n_partner; k++) {
        const gradin_shared *s = &c->shared[k];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "partner", choice->show->partner[k].name);
        table_json_text(json, object, "why_not", s->is_planned ? NULL : s->why_not);
        if (!s->is_planned) continue;
        table_json_integer(json, object, "into_s", s->in_span.total_s);
        table_json_integer(json, object, "into_at_least_s", s->in_span.bound_s);
        table_json_integer(json, object, "back_s", s->out_span.total_s);
        table_json_integer(json, object, "back_at_least_s", s->out_span.bound_s);
        table_json_integer(json, object, "crew", s->in.crew);
        if (s->crew_needed > 0)
            table_json_integer(json, object, "crew_needed", s->crew_needed);
        else
            table_json_null(json, object, "crew_needed");
    }
}

static void put_worths(table_json *json, json_t *parent, const gradin_choice *choice,
                       const gradin_candidate *c) {
    json_t *array = table_json_array(json, parent, "wishes");
    for (int k = 0; k < choice->show->n_wished; k++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "for", table_ask_key(choice->show->wished[k].ask));
        table_json_number(json, object, "worth", TABLE_INDEX, c->worth[k]);
    }
}

static void put_change(table_json *json, json_t *parent, const gradin_choice *choice,
                       int candidate) {
    table_text change = {.arena = NULL};
    gradin_arena *scratch = gradin_arena_create();
    change.arena = scratch;
    if (scratch) table_choice_lets_in(&change, choice, candidate);
    json->failed |= !scratch || change.failed;
    table_json_text(json, parent, "would_let_it_in", change.bytes);
    if (scratch) gradin_arena_destroy(scratch);
}

static void put_layout(table_json *json, json_t *array, const gradin_choice *choice, int i) {
    const gradin_candidate *c = &choice->candidate[i];
    json_t *object = table_json_append_object(json, array);
    table_json_integer(json, object, "rank", table_choice_rank(choice, i));
    table_json_text(json, object, "layout", c->model->layout_name);
    table_json_text(json, object, "form", gradin_form_name(c->model->form));
    table_json_text(json, object, "input_digest", c->model->digest);
    table_json_text(json, object, "verdict", table_choice_verdict(c->verdict));
    table_json_number(json, object, "score", TABLE_INDEX,
                      choice->show->n_wished > 0 ? c->score : NAN);
    table_json_number(json, object, "has_all_share", TABLE_INDEX, c->meets_share);
    table_json_number(json, object, "first_share", TABLE_INDEX, c->first_share);
    table_json_number(json, object, "first_any_weights_share", TABLE_INDEX, c->weight_share);
    table_json_number(json, object, "miss", TABLE_INDEX, c->miss);
    put_change(json, object, choice, i);
    table_json_musts(json, object, choice, c);
    put_figures(json, object, c);
    put_worths(json, object, choice, c);
    put_held(json, object, c);
    put_sales(json, object, choice, c);
    put_changeovers(json, object, choice, c);
}

static void put_traffic(table_json *json, const gradin_choice *choice) {
    char date[TABLE_DATE_CHARS];
    const gradin_show_noise *n = &choice->candidate[0].noise;
    if (!n->is_there) {
        table_json_null(json, json->root, "traffic");
        return;
    }
    json_t *object = table_json_object(json, json->root, "traffic");
    table_json_text(json, object, "name", choice->traffic->name);
    table_json_text(json, object, "digest", choice->traffic->digest);
    table_json_integer(json, object, "performances", n->n_performance);
    table_json_integer(json, object, "events", n->n_event);
    table_json_text(json, object, "from", table_date(date, n->first_day_s));
    table_json_text(json, object, "to", table_date(date, n->last_day_s));
    table_json_number(json, object, "not_in_levels_db", TABLE_DECIBEL, n->gaps_db);
    table_json_gaps(json, object, &n->gaps);
}

static void put_weights(table_json *json, const gradin_choice *choice) {
    json_t *array = table_json_array(json, json->root, "weights");
    for (int k = 0; k < choice->show->n_wished; k++) {
        const gradin_weight_room *w = &choice->weight[k];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "for", table_ask_key(choice->show->wished[k].ask));
        table_json_number(json, object, "share", TABLE_INDEX, w->share);
        table_json_number(json, object, "least", TABLE_INDEX, w->least);
        table_json_number(json, object, "most", TABLE_INDEX, w->most);
        table_json_text(json, object, "first_below",
                        w->below >= 0 ? table_choice_layout(choice, w->below) : NULL);
        table_json_text(json, object, "first_above",
                        w->above >= 0 ? table_choice_layout(choice, w->above) : NULL);
    }
}

static void put_order(table_json *json, const gradin_choice *choice) {
    json_t *array = table_json_array(json, json->root, "order");
    for (int k = 0; k < choice->n_candidate; k++) {
        json_t *object = table_json_append_object(json, array);
        bool is_last = k + 1 == choice->n_candidate;
        table_json_text(json, object, "layout", table_choice_layout(choice, choice->order[k]));
        table_json_number(json, object, "ahead_of_next_share", TABLE_INDEX,
                          is_last ? NAN : choice->ahead_share[k]);
        if (is_last)
            table_json_null(json, object, "told_from_next");
        else
            table_json_boolean(json, object, "told_from_next", choice->is_told[k]);
    }
}

static void put_answer(table_json *json, const gradin_choice *choice) {
    gradin_arena *scratch = gradin_arena_create();
    table_text answer = {.arena = scratch};
    if (scratch) table_choice_answer(&answer, choice);
    json->failed |= !scratch || answer.failed;
    table_json_text(json, json->root, "answer", answer.bytes);
    if (scratch) gradin_arena_destroy(scratch);
}

static void put_cautions(table_json *json, gradin_arena *arena, const gradin_choice *choice) {
    const char *caution[TABLE_N_CAUTION + TABLE_N_MOVE_CAUTION];
    int n = 0;
    (void)arena;
    for (int i = 0; i < TABLE_N_CAUTION; i++) caution[n++] = table_caution[i];
    for (int i = 1; i < TABLE_N_MOVE_CAUTION && choice->show->n_partner > 0; i++)
        caution[n++] = table_move_caution[i];
    table_json_cautions(json, caution, 0, n);
}

gradin_status gradin_choice_json(gradin_arena *arena, const gradin_choice *choice, char **text,
                                 size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || choice_complete(choice, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-choice-1", NULL);
    table_json_text(&json, json.root, "show", choice->show->name);
    table_json_text(&json, json.root, "venue", choice->candidate[0].model->venue_name);
    table_json_text(&json, json.root, "digest", choice->show->digest);
    put_answer(&json, choice);
    table_json_integer(&json, json.root, "has_all", choice->n_meets);
    table_json_integer(&json, json.root, "too_near", choice->n_near);
    table_json_number(&json, json.root, "confidence", TABLE_INDEX, choice->show->confidence);
    table_json_integer(&json, json.root, "draws", GRADIN_N_CHOICE_DRAW);
    table_json_number(&json, json.root, "none_has_all_share", TABLE_INDEX, choice->none_share);
    table_json_boolean(&json, json.root, "one_set_of_limits", !choice->are_limits_other);
    put_traffic(&json, choice);
    put_order(&json, choice);
    put_weights(&json, choice);
    json_t *array = table_json_array(&json, json.root, "layouts");
    for (int i = 0; i < choice->n_candidate; i++) put_layout(&json, array, choice, i);
    put_cautions(&json, arena, choice);
    return table_json_end(arena, &json, text, size, error);
}
