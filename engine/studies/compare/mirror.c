/* The rule by which seats are matched, and the mirror: its line goes through the middle of the
 * hall's plan, along the stage's axis or square to the plan, whichever brings most seats together.
 * A mirror that nobody asked for is taken when it brings nine seats of ten together and more than
 * places alone do. */
#include "studies/compare/compare.h"

enum { N_AXIS = 3 };
static const double most_of_all = 0.9;

static gradin_vec2 middle_m(const gradin_model *model) {
    const gradin_seats *seats = &model->seats;
    double x[2] = {INFINITY, -INFINITY}, y[2] = {INFINITY, -INFINITY};
    bool has_plan = model->footprint.n_corner > 0;
    int n = has_plan ? model->footprint.n_corner : seats->n_seat;
    for (int i = 0; i < n; i++) {
        gradin_vec2 at = has_plan ? model->footprint.corner_m[i]
                                  : (gradin_vec2){seats->floor_m[i].x, seats->floor_m[i].y};
        x[0] = fmin(x[0], at.x), x[1] = fmax(x[1], at.x);
        y[0] = fmin(y[0], at.y), y[1] = fmax(y[1], at.y);
    }
    return (gradin_vec2){0.5 * (x[0] + x[1]), 0.5 * (y[0] + y[1])};
}

static gradin_status match_way(gradin_arena *arena, const gradin_model *from,
                               const gradin_model *to, const compare_way *way,
                               compare_partners *partners) {
    gradin_status status =
        compare_no_partners(arena, from->seats.n_seat, to->seats.n_seat, partners);
    if (status != GRADIN_OK) return status;
    return compare_match_places(arena, &from->seats, &to->seats, way, partners);
}

/* The mirror that brings most seats together; of equals the first, which is the stage's axis. */
static gradin_status best_mirror(gradin_arena *arena, const gradin_model *from,
                                 const gradin_model *to, compare_way *best,
                                 compare_partners *partners) {
    double axis_deg[N_AXIS] = {from->axis_deg, 0.0, 90.0};
    gradin_status status =
        compare_no_partners(arena, from->seats.n_seat, to->seats.n_seat, partners);
    for (int k = 0; k < N_AXIS && status == GRADIN_OK; k++) {
        if (isnan(axis_deg[k])) continue;
        compare_way way = {true, axis_deg[k], middle_m(from), middle_m(to)};
        compare_partners tried;
        status = match_way(arena, from, to, &way, &tried);
        if (status != GRADIN_OK || tried.n <= partners->n) continue;
        *best = way;
        *partners = tried;
    }
    return status;
}

static gradin_status by_name(gradin_arena *arena, const gradin_model *from, const gradin_model *to,
                             compare_partners *partners) {
    compare_way straight = {0};
    gradin_status status =
        compare_no_partners(arena, from->seats.n_seat, to->seats.n_seat, partners);
    if (status == GRADIN_OK)
        status = compare_match_names(arena, &from->seats, &to->seats, partners);
    if (status != GRADIN_OK) return status;
    return compare_match_places(arena, &from->seats, &to->seats, &straight, partners);
}

static bool shows_mirror(const gradin_model *from, const gradin_model *to, int n_mirrored,
                         int n_straight) {
    int n_most = from->seats.n_seat > to->seats.n_seat ? from->seats.n_seat : to->seats.n_seat;
    return n_mirrored > n_straight && n_mirrored >= most_of_all * n_most;
}

static void take_mirror(const compare_way *way, const compare_partners *found, bool is_asked,
                        compare_partners *partners, gradin_compared_pair *pair) {
    *partners = *found;
    pair->by = GRADIN_MATCH_MIRROR;
    pair->axis_deg = way->axis_deg;
    pair->is_mirror_found = !is_asked;
}

static void count_elsewhere(const compare_partners *partners, int n, gradin_compared_pair *pair) {
    for (int i = 0; i < n; i++)
        pair->n_elsewhere += partners->matched[i] == GRADIN_MATCHED_NAME &&
                             partners->apart_m[i] > GRADIN_SAME_PLACE_M;
}

static gradin_status match(gradin_arena *arena, const gradin_model *from, const gradin_model *to,
                           gradin_match_by by, compare_partners *partners,
                           gradin_compared_pair *pair) {
    compare_way straight = {0}, mirror = {0};
    compare_partners placed, mirrored;
    gradin_status status = match_way(arena, from, to, &straight, &placed);
    if (status == GRADIN_OK) status = best_mirror(arena, from, to, &mirror, &mirrored);
    if (status != GRADIN_OK) return status;
    bool is_shown = by == GRADIN_MATCH_NAME && shows_mirror(from, to, mirrored.n, placed.n);
    if (by == GRADIN_MATCH_MIRROR || is_shown)
        take_mirror(&mirror, &mirrored, !is_shown, partners, pair);
    else if (by == GRADIN_MATCH_PLACE)
        *partners = placed;
    else
        status = by_name(arena, from, to, partners);
    if (status == GRADIN_OK) count_elsewhere(partners, from->seats.n_seat, pair);
    return status;
}

gradin_status compare_match(gradin_arena *arena, const gradin_model *from, const gradin_model *to,
                            gradin_match_by by, compare_partners *partners,
                            gradin_compared_pair *pair, gradin_error *error) {
    pair->by = by;
    pair->axis_deg = NAN;
    gradin_status status = match(arena, from, to, by, partners, pair);
    if (status != GRADIN_OK)
        return gradin_error_add(error, status, NULL, "no memory for the seats of two layouts");
    if (by == GRADIN_MATCH_MIRROR && partners->n == 0)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "no seat of %s stands where one of %s does in the mirror",
                                to->layout_name, from->layout_name);
    return GRADIN_OK;
}
