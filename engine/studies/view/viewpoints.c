/* Which seats are worth a look: ends and middles of the figures that the table of seats has. Where
 * seats come out alike, the first by number is taken; a figure that tells no seats apart chooses
 * none. */
#include "gradin/studies/viewpoints.h"
#include "base/use.h"
#include "model/complete.h"
#include "studies/shared/find_seat.h"

#include <stdlib.h>

gradin_status gradin_viewpoint_named(const gradin_model *model, const char *name, int *seat,
                                     gradin_error *error) {
    if (NEEDS(error, name, seat) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    *seat = study_find_seat(&model->seats, name, error);
    return *seat < 0 ? GRADIN_BAD_INPUT : GRADIN_OK;
}

typedef struct chooser {
    const gradin_model *model;
    const gradin_sight *sight;
    gradin_viewpoint *chosen; /* [most] */
    int n, most;
} chooser;

static bool is_chosen(const chooser *c, int seat) {
    for (int i = 0; i < c->n; i++)
        if (c->chosen[i].seat == seat) return true;
    return false;
}

static void take(chooser *c, int seat, const char *title) {
    if (seat < 0 || c->n >= c->most || is_chosen(c, seat)) return;
    c->chosen[c->n++] = (gradin_viewpoint){seat, title};
}

/* Seats in the order of what they see, the most first. */
typedef struct ranked {
    double visible, distance_m;
    int seat;
} ranked;

static int by_view(const void *a, const void *b) {
    const ranked *x = a, *y = b;
    if (x->visible != y->visible) return x->visible > y->visible ? -1 : 1;
    if (x->distance_m != y->distance_m) return x->distance_m < y->distance_m ? -1 : 1;
    return x->seat - y->seat;
}

static ranked *rank(gradin_arena *arena, const chooser *c) {
    int n = c->sight->n_seat;
    ranked *order = gradin_arena_alloc(arena, (size_t)n, sizeof *order);
    for (int i = 0; order && i < n; i++)
        order[i] = (ranked){c->sight->visible[i], c->sight->distance_m[i], i};
    if (order && n > 0) qsort(order, (size_t)n, sizeof *order, by_view);
    return order;
}

/* The seat with the most of a figure, times sign; stride between seats. -1 when none differs from
 * the least by more than `apart`. */
static int most_of(const chooser *c, const double *figure, int stride, double sign, double apart) {
    int best = -1;
    double most = -INFINITY, least = INFINITY;
    for (int i = 0; i < c->sight->n_seat; i++) {
        double value = sign * figure[(size_t)i * (size_t)stride];
        if (isnan(value)) continue;
        least = fmin(least, value);
        if (!(value > most)) continue;
        most = value;
        best = i;
    }
    return most - least > apart ? best : -1;
}

static int side_most(const chooser *c) {
    int best = -1;
    double most = 1.0;
    for (int i = 0; i < c->sight->n_seat; i++) {
        double off = c->sight->off_axis_deg[i];
        if (!(fabs(off) > most)) continue;
        most = fabs(off);
        best = i;
    }
    return best;
}

static int worst_wheelchair(const chooser *c) {
    int worst = -1;
    for (int i = 0; i < c->sight->n_seat; i++)
        if (c->model->seats.kind[i] == GRADIN_SEAT_WHEELCHAIR &&
            (worst < 0 || c->sight->visible[i] < c->sight->visible[worst]))
            worst = i;
    return worst;
}

static void choose_by_cause(chooser *c) {
    static const char *const title[GRADIN_N_CAUSE] = {"Loses most to heads", "Loses most to rails",
                                                      "Loses most to structure",
                                                      "Loses most to the arch"};
    for (int k = 0; k < GRADIN_N_CAUSE; k++) {
        int seat = most_of(c, c->sight->hidden + k, GRADIN_N_CAUSE, 1.0, -1.0);
        if (seat >= 0 &&
            c->sight->hidden[(size_t)seat * GRADIN_N_CAUSE + (size_t)k] >= GRADIN_TELLS_APART)
            take(c, seat, title[k]);
    }
}

static void choose_all(chooser *c, const ranked *order) {
    static const struct {
        double part;
        const char *title;
    } step[] = {{0.75, "Three in four see more"}, {0.25, "One in four sees more"},
                {0.9, "Nine in ten see more"},    {0.1, "One in ten sees more"},
                {0.6, "Three in five see more"},  {0.4, "Two in five see more"},
                {0.8, "Four in five see more"},   {0.3, "Three in ten see more"},
                {0.7, "Seven in ten see more"},   {0.2, "One in five sees more"},
                {0.95, "19 in 20 see more"},      {0.05, "One in 20 sees more"}};
    const gradin_sight *s = c->sight;
    int n = s->n_seat;
    if (n == 0) return;
    take(c, order[0].seat, "Best: sees most from nearest");
    take(c, order[n / 2].seat, "Median of what is seen");
    take(c, order[n - 1].seat, "Worst: sees least");
    choose_by_cause(c);
    take(c, worst_wheelchair(c), "Wheelchair place that sees least");
    take(c, most_of(c, s->distance_m, 1, 1.0, 0.5), "Farthest from the focus");
    take(c, most_of(c, s->down_deg, 1, 1.0, 1.0), "Looks down most");
    take(c, most_of(c, s->turn_deg, 1, 1.0, 1.0), "Turns the head most");
    take(c, side_most(c), "Farthest to the side");
    take(c, most_of(c, s->distance_m, 1, -1.0, 0.5), "Nearest to the focus");
    for (size_t k = 0; k < sizeof step / sizeof *step; k++)
        take(c, order[(int)(step[k].part * (n - 1))].seat, step[k].title);
}

gradin_status gradin_viewpoints_choose(gradin_arena *arena, const gradin_model *model,
                                       const gradin_sight *sight, int most,
                                       gradin_viewpoint **viewpoint, int *n, gradin_error *error) {
    if (NEEDS(error, arena, sight, viewpoint, n) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (sight->n_seat != model->seats.n_seat || most < 1 ||
        (sight->n_seat > 0 && !(sight->visible && sight->hidden && sight->distance_m &&
                                sight->down_deg && sight->turn_deg && sight->off_axis_deg)))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "The sightlines are not whole or of another model");
    chooser c = {model, sight, gradin_arena_alloc(arena, (size_t)most, sizeof *c.chosen), 0, most};
    const ranked *order = rank(arena, &c);
    if (!c.chosen || !order)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "No memory for seats to look from");
    choose_all(&c, order);
    *viewpoint = c.chosen;
    *n = c.n;
    return GRADIN_OK;
}
