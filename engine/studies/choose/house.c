/* What of a layout is sold, what each seat costs, and the figures of sight over the seats sold.
 *
 * A seat is sold when its rating is that which the show still sells, or better. Samples leave a
 * visible share open by three standard errors (studies/compare/tells.c has them and their source),
 * draws a clear view by theirs: every seat is rated three times, as worked out, with all of them
 * three standard errors worse, and better. A view of everybody sitting: seats held back would stay
 * empty and open the view behind them, which is not counted. Distance: setting out a row holds
 * 50 mm (common practice, no source). */
#include "gradin/geometry.h"
#include "studies/choose/choose.h"
#include "studies/compare/compare.h"

#include <string.h>

static const double setting_out_m = 0.05;

static bool is_in_blocks(const gradin_price *p, const char *block) {
    for (int i = 0; i < p->n_block; i++)
        if (strcmp(p->block[i], block) == 0) return true;
    return p->n_block == 0;
}

static bool fits(const gradin_price *p, const gradin_assessment *a, gradin_rating rating, int i) {
    const gradin_seats *s = &a->model->seats;
    bool is_in_rows = p->row[0] == 0 || (s->row[i] >= p->row[0] && s->row[i] <= p->row[1]);
    return is_in_rows && rating <= p->rated && !(a->sight.distance_m[i] > p->distance_m) &&
           is_in_blocks(p, a->model->block_name[s->block[i]]);
}

/* Index of the first price that the seat fits; n_price without one. */
static int price_of(const gradin_show *show, const gradin_assessment *a, gradin_rating rating,
                    int i) {
    int k = 0;
    while (k < show->n_price && !fits(&show->price[k], a, rating, i)) k++;
    return k;
}

choose_house choose_house_of(const gradin_show *show, const gradin_assessment *a,
                             const gradin_rating *rating, gradin_sale *sale) {
    choose_house h = {0};
    for (int i = 0; i < a->model->seats.n_seat; i++) {
        if (rating[i] > show->sold_to) continue;
        int k = price_of(show, a, rating[i], i);
        double price = k < show->n_price ? show->price[k].price : 0.0;
        h.n_sold++;
        h.n_wheelchair += a->model->seats.kind[i] == GRADIN_SEAT_WHEELCHAIR;
        h.n_clear += rating[i] == GRADIN_RATING_CLEAR;
        h.n_good += rating[i] <= GRADIN_RATING_GOOD;
        h.distance_m = fmax(h.distance_m, a->sight.distance_m[i]);
        h.takings += price;
        if (!sale) continue;
        sale[k].n_seat++;
        sale[k].takings += price;
    }
    return h;
}

static double *moved(gradin_arena *arena, const double *share, size_t n, size_t stride, double by) {
    double *out = gradin_arena_alloc(arena, n * stride, sizeof *out);
    for (size_t i = 0; out && i < n * stride; i++) out[i] = share[i];
    for (size_t i = 0; out && i < n; i++)
        out[i * stride] = fmin(fmax(share[i * stride] + by, 0.0), 1.0);
    return out;
}

/* The same sight with what samples decide moved. Heads hide less by as much. */
static bool move_sight(gradin_arena *arena, const gradin_assessment *a, double by,
                       gradin_sight *s) {
    size_t n = (size_t)s->n_seat;
    s->visible = moved(arena, a->sight.visible, n, 1, by);
    if (a->sight.c_heads)
        s->c_heads = moved(arena, a->sight.c_heads, n, 1, -by);
    else
        s->hidden = moved(arena, a->sight.hidden, n, GRADIN_N_CAUSE, -by);
    s->rating = gradin_arena_alloc(arena, n, sizeof *s->rating);
    s->reason = gradin_arena_alloc(arena, n, sizeof *s->reason);
    s->c_class = gradin_arena_alloc(arena, n, sizeof *s->c_class);
    return s->visible && (a->sight.c_heads ? s->c_heads : s->hidden) && s->rating && s->reason &&
           s->c_class;
}

gradin_rating *choose_ratings(gradin_arena *arena, const gradin_assessment *a, double shift,
                              gradin_error *error) {
    gradin_sight s = a->sight;
    gradin_crowd crowd = a->crowd;
    double by = shift * compare_sample_error(a, NULL);
    if (a->has_crowd) crowd.clear = gradin_arena_alloc(arena, (size_t)s.n_seat, sizeof(double));
    if (!move_sight(arena, a, by, &s) || (a->has_crowd && !crowd.clear)) return NULL;
    for (int i = 0; a->has_crowd && i < s.n_seat; i++)
        crowd.clear[i] = a->crowd.clear[i] + shift * a->crowd.clear_se[i];
    gradin_status status = gradin_sight_rate(a->model, a->has_crowd ? &crowd : NULL, &s, error);
    return status == GRADIN_OK ? s.rating : NULL;
}

static double share_of(int n, int of) {
    return of > 0 ? (double)n / of : 0.0;
}

static gradin_asked between(double low, double value, double high) {
    return choose_between(GRADIN_DOUBT_SIGHT, low, value, high);
}

static gradin_asked farthest(const choose_house h[3]) {
    gradin_asked f = between(h[0].distance_m, h[1].distance_m, h[2].distance_m);
    f.low -= setting_out_m;
    f.high += setting_out_m;
    return f;
}

/* Low, as it is, high. */
static void set_figures(const gradin_show *show, const choose_house h[3], gradin_asked *figure) {
    figure[GRADIN_ASK_SEATS] = between(h[0].n_sold, h[1].n_sold, h[2].n_sold);
    figure[GRADIN_ASK_WHEELCHAIRS] =
        between(h[0].n_wheelchair, h[1].n_wheelchair, h[2].n_wheelchair);
    figure[GRADIN_ASK_CLEAR] =
        between(share_of(h[0].n_clear, h[0].n_sold), share_of(h[1].n_clear, h[1].n_sold),
                share_of(h[2].n_clear, h[2].n_sold));
    figure[GRADIN_ASK_GOOD] =
        between(share_of(h[0].n_good, h[0].n_sold), share_of(h[1].n_good, h[1].n_sold),
                share_of(h[2].n_good, h[2].n_sold));
    figure[GRADIN_ASK_DISTANCE] = farthest(h);
    if (show->n_price > 0)
        figure[GRADIN_ASK_TAKINGS] = between(h[0].takings, h[1].takings, h[2].takings);
}

static double stage_m2(const gradin_model *m) {
    double sum_m2 = 0.0;
    for (int k = 0; k < m->n_focus; k++)
        if (m->focus[k].kind == GRADIN_FOCUS_FLOOR)
            sum_m2 += gradin_polygon_area_m2(m->focus[k].polygon);
    return sum_m2;
}

static double form_worth(const gradin_show *show, gradin_form form) {
    for (int i = 0; i < show->n_form; i++)
        if (show->form[i] == form) return 1.0 - (double)i / show->n_form;
    return 0.0;
}

static bool hold_back(gradin_arena *arena, const gradin_show *show, gradin_candidate *c) {
    const gradin_sight *s = &c->assessment.sight;
    c->is_held = gradin_arena_alloc(arena, (size_t)s->n_seat, sizeof *c->is_held);
    for (int i = 0; c->is_held && i < s->n_seat; i++) {
        c->is_held[i] = s->rating[i] > show->sold_to;
        if (!c->is_held[i]) continue;
        c->n_held++;
        c->n_held_reason[s->reason[i]]++;
        c->n_held_wheelchair += c->model->seats.kind[i] == GRADIN_SEAT_WHEELCHAIR;
    }
    return c->is_held != NULL;
}

gradin_status choose_look(gradin_arena *arena, const gradin_show *show, gradin_candidate *c,
                          gradin_error *error) {
    const gradin_assessment *a = &c->assessment;
    const gradin_rating *rating[3] = {choose_ratings(arena, a, -CHOOSE_ENDS, error),
                                      a->sight.rating,
                                      choose_ratings(arena, a, CHOOSE_ENDS, error)};
    choose_house h[3];
    if (!rating[0] || !rating[2] || !hold_back(arena, show, c))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int k = 0; k < 3; k++) h[k] = choose_house_of(show, a, rating[k], k == 1 ? c->sale : NULL);
    set_figures(show, h, c->figure);
    c->figure[GRADIN_ASK_STAGE] = choose_certain(stage_m2(c->model));
    c->figure[GRADIN_ASK_FORM] = choose_certain(form_worth(show, c->model->form));
    return GRADIN_OK;
}
