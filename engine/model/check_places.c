/* Is every place possible: in the room, on one tread, clear of solids and of its neighbours? One
 * complaint per block and kind, naming the first place and how many more there are. */
#include "base/lengths.h"
#include "model/build.h"

#include <stdio.h>
#include <stdlib.h>

/* Seats that touch, and chairs on an arc whose inner corners meet, are no overlap. */
static const double TOUCH_M = 0.04;
static const double SITTING_M = 1.3;
static const double CEILING_M = 1.4;
static const double LEVEL_M = 0.005; /* treads closer than this in height are one surface */

typedef enum fault {
    FAULT_NONE,
    FAULT_OUTSIDE,
    FAULT_CEILING,
    FAULT_BELOW,
    FAULT_EDGE,
    FAULT_NO_LIFT,
    FAULT_LIFT_MOVED,
    FAULT_SOLID,
    N_FAULT
} fault;

/* Below the fixed floor people stand only on a slab that is stated there. */
static bool is_below_floor(const builder *b, const place *p) {
    if (p->z_m >= fixed_floor_m(b, p->at_m) - LEVEL_M) return false;
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        if (o->machine == -1 && fabs(o->top_m - p->z_m) <= LEVEL_M &&
            gradin_polygon_contains(o->polygon, p->at_m))
            return false;
    }
    return true;
}

static fault support_fault(const builder *b, const place *p) {
    const gradin_block *from = &b->p->block[p->block];
    footing f = footing_of(b, p);
    if (from->on == GRADIN_SUPPORT_FLOOR && is_below_floor(b, p)) return FAULT_BELOW;
    if (from->on == GRADIN_SUPPORT_LIFTS && f.n_off > 0) return FAULT_NO_LIFT;
    if (f.jump_m > LEVEL_M) return FAULT_EDGE;
    if (from->on == GRADIN_SUPPORT_FLOOR && fabs(f.lift_m) > LEVEL_M) return FAULT_LIFT_MOVED;
    return FAULT_NONE;
}

static bool is_near(const place *p, gradin_box2 box) {
    double reach_m = hypot(p->width_m, BODY_DEPTH_M) / 2.0;
    return p->at_m.x > box.x_min_m - reach_m && p->at_m.x < box.x_max_m + reach_m &&
           p->at_m.y > box.y_min_m - reach_m && p->at_m.y < box.y_max_m + reach_m;
}

static const obstacle *solid_at(const builder *b, const place *p) {
    gradin_vec2 corner_m[4];
    place_corners(p, p->depth_m < BODY_DEPTH_M ? p->depth_m : BODY_DEPTH_M, corner_m);
    gradin_polygon body = {corner_m, 4};
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        bool beside = o->top_m > p->z_m + 0.05 && o->bottom_m < p->z_m + SITTING_M;
        if (beside && is_near(p, o->bounds) && gradin_polygon_overlap(body, o->polygon, TOUCH_M))
            return o;
    }
    return NULL;
}

static fault fault_of(const builder *b, const place *p, const obstacle **solid) {
    if (!place_is_in_room(b, p)) return FAULT_OUTSIDE;
    fault support = p->deck < 0 ? support_fault(b, p) : FAULT_NONE;
    if (support != FAULT_NONE) return support;
    if (p->z_m + CEILING_M > b->v->ceiling_m) return FAULT_CEILING;
    *solid = solid_at(b, p);
    return *solid ? FAULT_SOLID : FAULT_NONE;
}

static void say(builder *b, const place *p, const char *text, int n_more) {
    char more[48] = "";
    if (n_more > 0) snprintf(more, sizeof more, " (and %d more of this block)", n_more);
    refuse(b->c, b->block_at[p->block], "%s %s%s", place_name(b, p), text, more);
}

typedef struct tally {
    const place *first;
    const obstacle *solid;
    int n;
} tally;

static char *text_of(builder *b, fault f, const tally *found) {
    char length[LENGTH_CHARS];
    length_unit unit = length_unit_of(b->p->units);
    if (f == FAULT_SOLID) return print_text(b->c, "stands inside %s", found->solid->name);
    if (f == FAULT_CEILING)
        return print_text(b->c, "has less than %s to the ceiling",
                          length_text(length, CEILING_M, unit));
    return print_text(
        b->c, "stands %s below the floor, and no slab is stated under it",
        length_text(length, fixed_floor_m(b, found->first->at_m) - found->first->z_m, unit));
}

static void say_faults(builder *b, const tally found[N_FAULT]) {
    static const char *const text[N_FAULT] = {
        [FAULT_OUTSIDE] = "lies outside the room's footprint",
        [FAULT_EDGE] = "is unsupported: it stands over an edge between two heights",
        [FAULT_NO_LIFT] = "is unsupported: no lift is under it",
        [FAULT_LIFT_MOVED] =
            "is unsupported: the lift under it is not at floor level; write 'stands_on: "
            "lifts'"};
    for (int f = FAULT_OUTSIDE; f < N_FAULT; f++) {
        if (found[f].n == 0) continue;
        const char *says = text[f] ? text[f] : text_of(b, (fault)f, &found[f]);
        if (says) say(b, found[f].first, says, found[f].n - 1);
    }
}

static void check_block(builder *b, const place *first, int n) {
    tally found[N_FAULT] = {{0}};
    for (int i = 0; i < n; i++) {
        const obstacle *solid = NULL;
        tally *t = &found[fault_of(b, &first[i], &solid)];
        if (t->n++ == 0) {
            t->first = &first[i];
            t->solid = solid;
        }
    }
    say_faults(b, found);
}

static int west_first(const void *a, const void *b) {
    const place *p = *(const place *const *)a, *q = *(const place *const *)b;
    if (p->at_m.x != q->at_m.x) return p->at_m.x < q->at_m.x ? -1 : 1;
    return (p > q) - (p < q);
}

static double reach_m(const place *p) {
    return hypot(p->width_m, BODY_DEPTH_M) / 2.0;
}

static bool overlap(const place *p, const place *q) {
    gradin_vec2 p_corner_m[4], q_corner_m[4];
    if (fabs(p->z_m - q->z_m) > HEADROOM_M) return false;
    if (hypot(p->at_m.x - q->at_m.x, p->at_m.y - q->at_m.y) > reach_m(p) + reach_m(q)) return false;
    place_corners(p, fmin(p->depth_m, BODY_DEPTH_M), p_corner_m);
    place_corners(q, fmin(q->depth_m, BODY_DEPTH_M), q_corner_m);
    return gradin_polygon_overlap((gradin_polygon){p_corner_m, 4}, (gradin_polygon){q_corner_m, 4},
                                  TOUCH_M);
}

/* Under the platform of a row that no slab carries: it stands on the floor, so on these people. */
static bool is_buried(const builder *b, const place *low, const place *high) {
    gradin_vec2 body_m[4], under_m[4];
    double bottom_m;
    if (high->z_m - low->z_m <= HEADROOM_M || !platform_below(b, high, &bottom_m) ||
        bottom_m > low->z_m + SITTING_M)
        return false;
    place_corners(low, fmin(low->depth_m, BODY_DEPTH_M), body_m);
    place_corners(high, high->depth_m, under_m);
    return gradin_polygon_overlap((gradin_polygon){body_m, 4}, (gradin_polygon){under_m, 4},
                                  TOUCH_M);
}

static void tell(builder *b, bool *is_told, const place *p, const char *what, const place *q) {
    if (is_told[p->block]) return;
    is_told[p->block] = true;
    say(b, p, print_text(b->c, "%s %s", what, place_name(b, q)), 0);
}

static void check_pair(builder *b, bool *is_told, const place *p, const place *q) {
    static const char below[] = "is inside the platform (a solid of kind slab may carry it) of";
    if (overlap(p, q)) tell(b, is_told, p, "overlaps", q);
    if (is_buried(b, p, q)) tell(b, is_told, p, below, q);
    if (is_buried(b, q, p)) tell(b, is_told, q, below, p);
}

static void check_overlap(builder *b) {
    const place **sorted = alloc(b->c, b->n_place, sizeof *sorted);
    bool *is_told = alloc(b->c, b->n_block_name, sizeof *is_told);
    double widest_m = 0.0;
    if (!sorted || !is_told) return;
    for (int i = 0; i < b->n_place; i++) {
        sorted[i] = &b->place[i];
        widest_m = fmax(widest_m, 2.0 * reach_m(&b->place[i]) + b->place[i].depth_m);
    }
    qsort(sorted, (size_t)b->n_place, sizeof *sorted, west_first);
    for (int i = 0; i < b->n_place; i++)
        for (int k = i + 1; k < b->n_place && sorted[k]->at_m.x - sorted[i]->at_m.x < widest_m; k++)
            check_pair(b, is_told, sorted[i], sorted[k]);
}

void check_places(builder *b) {
    for (int start = 0, end; start < b->n_place; start = end) {
        for (end = start; end < b->n_place && b->place[end].block == b->place[start].block;) end++;
        check_block(b, &b->place[start], end - start);
    }
    if (b->c->n_error == 0) check_overlap(b);
}
