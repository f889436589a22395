/* What changes from one layout to another, seat by seat on the plan of the second. The ends of the
 * scales are conventions of our own, the same for every two layouts. */
#include "base/use.h"
#include "gradin/studies/compare_plot.h"
#include "studies/shared/complete.h"

#include "render/draw/encode.h"
#include "render/maps/page.h"

#include <stdio.h>
#include <string.h>

static const char *const file_stem[GRADIN_N_COMPARE_MAP] = {"rating_change", "visible_change",
                                                            "c_value_change", "lamax_change"};
/* The rating has none: its change is in classes. */
static const gradin_figure figure_of[GRADIN_N_COMPARE_MAP] = {
    GRADIN_N_FIGURE, GRADIN_FIGURE_VISIBLE, GRADIN_FIGURE_C_VALUE, GRADIN_FIGURE_LAMAX};

typedef struct subject {
    const gradin_comparison *c;
    const gradin_compared_pair *pair;
    const gradin_model *model[2];
    gradin_compare_map map;
} subject;

static bool is_map(gradin_compare_map map) {
    return (int)map >= 0 && map < GRADIN_N_COMPARE_MAP;
}

const char *gradin_compare_map_name(gradin_compare_map map) {
    return is_map(map) ? file_stem[map] : "unknown";
}

static gradin_effect effect_of(const gradin_seat_change *change, gradin_compare_map map) {
    if (map != GRADIN_COMPARE_MAP_RATING) return change->effect[figure_of[map]];
    return change->steps > 0   ? GRADIN_EFFECT_BETTER
           : change->steps < 0 ? GRADIN_EFFECT_WORSE
                               : GRADIN_EFFECT_SAME;
}

static double value_of(const gradin_seat_change *change, gradin_compare_map map) {
    return map == GRADIN_COMPARE_MAP_RATING ? change->steps : change->change[figure_of[map]];
}

bool gradin_compare_map_applies(const gradin_comparison *comparison, int pair,
                                gradin_compare_map map) {
    if (comparison_complete(comparison, NULL) != GRADIN_OK || !is_map(map) || pair < 0 ||
        pair + 1 >= comparison->n_layout)
        return false;
    const gradin_compared_pair *p = &comparison->pair[pair];
    for (int i = 0; i < p->n_change; i++)
        if (p->change[i].matched != GRADIN_MATCHED_NOT &&
            effect_of(&p->change[i], map) != GRADIN_EFFECT_NONE)
            return true;
    return false;
}

static gradin_status fill_seats(gradin_arena *arena, const subject *s, quantity *q) {
    size_t n_seat = (size_t)s->model[1]->seats.n_seat;
    double *value = gradin_arena_alloc(arena, n_seat, sizeof *value);
    gradin_effect *effect = gradin_arena_alloc(arena, n_seat, sizeof *effect);
    if (!value || !effect) return GRADIN_NO_MEMORY;
    for (size_t i = 0; i < n_seat; i++) value[i] = NAN;
    for (int i = 0; i < s->pair->n_change; i++) {
        const gradin_seat_change *change = &s->pair->change[i];
        if (change->matched == GRADIN_MATCHED_NOT) continue;
        value[change->seat[1]] = value_of(change, s->map);
        effect[change->seat[1]] = effect_of(change, s->map);
    }
    q->value = value;
    q->effect = effect;
    return GRADIN_OK;
}

static quantity rating_row(void) {
    return (quantity){
        .unit = "classes", .low = -3.0, .high = 3.0, .shown_per_si = 1.0, .tick_shown = 1.0};
}

static quantity visible_row(void) {
    return (quantity){.unit = "points",
                      .low = -0.3,
                      .high = 0.3,
                      .shown_per_si = 100.0,
                      .tick_shown = 10.0,
                      .opens_low = true,
                      .opens_high = true};
}

static quantity c_value_row(bool inches) {
    return (quantity){.unit = inches ? "in" : "mm",
                      .low = -0.1,
                      .high = 0.1,
                      .shown_per_si = inches ? 12.0 / GRADIN_FOOT_M : 1000.0,
                      .tick_shown = inches ? 1.0 : 20.0,
                      .decimals = inches ? 1 : 0,
                      .opens_low = true,
                      .opens_high = true};
}

static quantity lamax_row(const subject *s) {
    const gradin_assessment *a = s->c->layout[s->pair->second].assessment;
    return (quantity){.unit = "dB",
                      .low = -6.0,
                      .high = 6.0,
                      .shown_per_si = 1.0,
                      .tick_shown = 2.0,
                      .decimals = 1,
                      .opens_low = true,
                      .opens_high = true,
                      .is_noise = true,
                      .pass = s->model[1]->pass,
                      .doubt = {a->systematic.median, a->noise.uncertainty.scatter_db,
                                s->model[1]->criterion.confidence}};
}

static quantity row_of(const subject *s) {
    switch (s->map) {
    case GRADIN_COMPARE_MAP_VISIBLE:
        return visible_row();
    case GRADIN_COMPARE_MAP_C_VALUE:
        return c_value_row(s->model[1]->units && strcmp(s->model[1]->units, "ft") == 0);
    case GRADIN_COMPARE_MAP_LAMAX:
        return lamax_row(s);
    default:
        return rating_row();
    }
}

static double most_tells(const subject *s) {
    double most = 0.0;
    for (int i = 0; i < s->pair->n_change; i++)
        if (isfinite(s->pair->change[i].tells[figure_of[s->map]]))
            most = fmax(most, s->pair->change[i].tells[figure_of[s->map]]);
    return most;
}

static void tell(const subject *s, quantity *q) {
    static const char *const what[GRADIN_N_COMPARE_MAP] = {"Rating", "Share of the focus area seen",
                                                           "C-value over the head in front",
                                                           "Highest level of the overflight"};
    char number[32];
    snprintf(q->title, sizeof q->title, "%s: %.40s less %.40s", what[s->map],
             s->model[1]->layout_name, s->model[0]->layout_name);
    snprintf(q->within, sizeof q->within, "better than in %.60s", s->model[0]->layout_name);
    snprintf(q->over, sizeof q->over, "worse than in %.60s (slash)", s->model[0]->layout_name);
    if (s->map == GRADIN_COMPARE_MAP_RATING) {
        snprintf(q->note, sizeof q->note,
                 "A class counts as better or worse when the figure that sets it has moved by what "
                 "can be told.");
        return;
    }
    gradin_format_fixed(number, sizeof number, q->shown_per_si * most_tells(s),
                        s->map == GRADIN_COMPARE_MAP_C_VALUE ? q->decimals : 1);
    snprintf(q->note, sizeof q->note,
             "White with =: no difference; these figures tell one from %s %s on.%s", number,
             q->unit, s->map == GRADIN_COMPARE_MAP_LAMAX ? " Above zero: louder." : "");
}

static gradin_status quantity_of_subject(gradin_arena *arena, const subject *s, quantity *q,
                                         gradin_error *error) {
    *q = row_of(s);
    q->model = s->model[1];
    q->is_difference = true;
    q->criterion = NAN;
    q->is_criterion_hidden = true;
    q->criterion_head = "seats of this layout";
    q->mark_text = "worse (slash)";
    q->none_text = "no seat of the other, or no figure";
    q->beside_digest = s->model[0]->digest;
    tell(s, q);
    if (fill_seats(arena, s, q) == GRADIN_OK) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
}

static subject subject_of(const gradin_comparison *c, int pair, gradin_compare_map map) {
    const gradin_compared_pair *p = &c->pair[pair];
    return (subject){
        c, p, {c->layout[p->first].assessment->model, c->layout[p->second].assessment->model}, map};
}

gradin_status quantity_of_pair(gradin_arena *arena, const gradin_comparison *c, int pair,
                               gradin_compare_map map, quantity *q, gradin_error *error) {
    subject s = subject_of(c, pair, map);
    return quantity_of_subject(arena, &s, q, error);
}

gradin_status gradin_compare_map_png(gradin_arena *arena, const gradin_comparison *comparison,
                                     int pair, gradin_compare_map map, int sheet,
                                     unsigned char **bytes, size_t *size, gradin_error *error) {
    quantity q;
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        comparison_complete(comparison, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!gradin_compare_map_applies(comparison, pair, map))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the comparison has no figures for the map %s",
                                gradin_compare_map_name(map));
    subject s = subject_of(comparison, pair, map);
    gradin_status status = quantity_of_subject(arena, &s, &q, error);
    return status == GRADIN_OK ? page_png(arena, &q, sheet, bytes, size, error) : status;
}

/* Where the pages go. */
typedef struct target {
    easel e;
    gradin_picture format;
    const char *dir;
    int n;
} target;

static gradin_status write_map(target *t, const gradin_comparison *c, int pair,
                               gradin_compare_map map, int sheet, gradin_error *error) {
    char stem[40];
    quantity q;
    subject s = subject_of(c, pair, map);
    snprintf(stem, sizeof stem, c->n_layout > 2 ? "%s_%c" : "%s", file_stem[map],
             'a' + c->pair[pair].second);
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = quantity_of_subject(arena, &s, &q, error);
    q.format = t->format;
    if (status == GRADIN_OK) status = page_write(&t->e, &q, sheet, t->dir, stem, &t->n, error);
    gradin_arena_destroy(arena);
    return status;
}

static gradin_status write_pair(target *t, const gradin_comparison *c, int pair,
                                gradin_error *error) {
    gradin_status status = GRADIN_OK;
    int n_sheet = subject_of(c, pair, 0).model[1]->seats.n_sheet;
    for (int sheet = 0; sheet < n_sheet; sheet++)
        for (int map = 0; map < GRADIN_N_COMPARE_MAP && status == GRADIN_OK; map++)
            if (gradin_compare_map_applies(c, pair, (gradin_compare_map)map))
                status = write_map(t, c, pair, (gradin_compare_map)map, sheet, error);
    return status;
}

gradin_status gradin_compare_maps_write(const gradin_comparison *comparison, gradin_picture format,
                                        const char *dir, int *n_written, gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || comparison_complete(comparison, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    target t = {.format = format, .dir = dir};
    gradin_status status = easel_open(&t.e, error);
    for (int p = 0; p + 1 < comparison->n_layout && status == GRADIN_OK; p++)
        status = write_pair(&t, comparison, p, error);
    easel_close(&t.e);
    if (n_written) *n_written = t.n;
    return status;
}

gradin_status gradin_compare_maps_left_out(gradin_arena *arena, const gradin_comparison *comparison,
                                           char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        comparison_complete(comparison, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    left_out l = {arena, ""};
    gradin_status status = GRADIN_OK;
    for (int p = 0; p + 1 < comparison->n_layout; p++)
        for (int map = 0; map < GRADIN_N_COMPARE_MAP && status == GRADIN_OK; map++) {
            quantity q;
            if (!gradin_compare_map_applies(comparison, p, (gradin_compare_map)map)) continue;
            subject s = subject_of(comparison, p, (gradin_compare_map)map);
            status = quantity_of_subject(arena, &s, &q, error);
            if (status == GRADIN_OK) status = page_note_left_out(&l, &q, error);
        }
    *text = l.text;
    return status;
}
