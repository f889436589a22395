/* Aisles that lead on at one end only, or at none. One into which nobody gets from the exits leads
 * nowhere. Of the others: an aisle's length is the direction in which its
 * cells lie farthest apart (the greater axis of inertia). With the aisle taken out of the floor, a
 * way leads out of it where a cell beside it still has a way to an exit. An end at which none does
 * is a dead end, as long as it is from there to the first place at the aisle's side that has one.
 * An aisle not longer than broad has no ends. Of one drawn on over a drop, its greatest part that
 * is walked without leaving it counts. */
#include "studies/fit/ways.h"

static const double BEYOND_M = 0.60; /* from an end: here it must go on, */
static const double BESIDE_M = 0.60; /* or from a side */
static const double LEVEL_M = 0.50;
static const double LONG = 1.5; /* times as long as broad */

typedef struct strip {
    ways *w;
    const gradin_area *aisle;
    gradin_vec2 middle_m, along;
    double low_m, high_m, half_m; /* of its cells, from the middle; half its breadth */
    bool *is_in;                  /* [n_cell] */
    bool is_walked;               /* some cells have a floor; then only those count */
    int n_in;
    int *part; /* [n_cell] 0: not in the aisle, or not yet asked */
} strip;

static bool counts(const strip *s, int cell) {
    return s->is_in[cell] && (!s->is_walked || !isnan(s->w->floor_m[cell]));
}

static gradin_vec2 in_strip(const strip *s, gradin_vec2 at_m) {
    double x = at_m.x - s->middle_m.x, y = at_m.y - s->middle_m.y;
    return (gradin_vec2){x * s->along.x + y * s->along.y, y * s->along.x - x * s->along.y};
}

static gradin_vec2 of_strip(const strip *s, double along_m, double across_m) {
    return (gradin_vec2){s->middle_m.x + s->along.x * along_m - s->along.y * across_m,
                         s->middle_m.y + s->along.y * along_m + s->along.x * across_m};
}

/* The cells of the aisle to which somebody walks inside it from this one; how many. */
static int walk_part(strip *s, int from, int part) {
    ways *w = s->w;
    int n = 0;
    s->part[from] = part;
    w->heap[n++] = from;
    for (int i = 0; i < n; i++)
        for (int k = 0; k < 4; k++) {
            int to = ways_beside(w, w->heap[i], k);
            if (to < 0 || !s->is_in[to] || s->part[to] != 0) continue;
            if (!(fabs(w->floor_m[to] - w->floor_m[w->heap[i]]) <= LEVEL_M)) continue;
            s->part[to] = part;
            w->heap[n++] = to;
        }
    return n;
}

static void keep_greatest_part(strip *s) {
    int n_part = 0, greatest = 0, most = 0;
    for (int i = 0; i < s->w->n_cell; i++) s->part[i] = 0;
    for (int i = 0; i < s->w->n_cell; i++) {
        if (!s->is_in[i] || isnan(s->w->floor_m[i]) || s->part[i] != 0) continue;
        int n = walk_part(s, i, ++n_part);
        if (n <= most) continue;
        most = n;
        greatest = n_part;
    }
    for (int i = 0; i < s->w->n_cell; i++) s->is_in[i] &= n_part == 0 || s->part[i] == greatest;
}

static void mark(strip *s) {
    s->n_in = 0;
    s->is_walked = false;
    s->middle_m = (gradin_vec2){0.0, 0.0};
    for (int i = 0; i < s->w->n_cell; i++) {
        s->is_in[i] = gradin_polygon_contains(s->aisle->polygon, ways_middle_m(s->w, i));
        s->is_walked |= s->is_in[i] && !isnan(s->w->floor_m[i]);
    }
    keep_greatest_part(s);
    for (int i = 0; i < s->w->n_cell; i++) {
        gradin_vec2 at_m = ways_middle_m(s->w, i);
        if (!counts(s, i)) continue;
        s->n_in++;
        s->middle_m.x += at_m.x;
        s->middle_m.y += at_m.y;
    }
    s->middle_m.x /= fmax(s->n_in, 1.0);
    s->middle_m.y /= fmax(s->n_in, 1.0);
}

/* Its axis, and how far its cells go along and across. */
static void lay(strip *s) {
    double xx = 0.0, xy = 0.0, yy = 0.0;
    for (int i = 0; i < s->w->n_cell; i++) {
        if (!counts(s, i)) continue;
        gradin_vec2 at_m = ways_middle_m(s->w, i);
        double x = at_m.x - s->middle_m.x, y = at_m.y - s->middle_m.y;
        xx += x * x, xy += x * y, yy += y * y;
    }
    double angle = 0.5 * atan2(2.0 * xy, xx - yy);
    s->along = (gradin_vec2){cos(angle), sin(angle)};
    s->low_m = s->high_m = s->half_m = 0.0;
    for (int i = 0; i < s->w->n_cell; i++) {
        if (!counts(s, i)) continue;
        gradin_vec2 at_m = in_strip(s, ways_middle_m(s->w, i));
        s->low_m = fmin(s->low_m, at_m.x);
        s->high_m = fmax(s->high_m, at_m.x);
        s->half_m = fmax(s->half_m, fabs(at_m.y));
    }
}

static bool leads_out(const strip *s, int cell) {
    return cell >= 0 && !s->is_in[cell] && s->w->out_cm[cell] > 0;
}

/* Is the floor walked straight from a place in the aisle, without a drop or a step too high, to
 * what leads out, or to an exit within it? Both places are along and across the strip. */
static bool is_walked_out(const strip *s, gradin_vec2 from_m, gradin_vec2 by, double most_m) {
    double step_m = s->w->column_m / 2.0, floor_m = NAN;
    for (double off_m = 0.0; off_m <= most_m; off_m += step_m) {
        int cell = ways_cell(s->w, of_strip(s, from_m.x + by.x * off_m, from_m.y + by.y * off_m));
        if (cell < 0 || isnan(s->w->floor_m[cell])) return false;
        if (fabs(s->w->floor_m[cell] - floor_m) > LEVEL_M) return false;
        floor_m = s->w->floor_m[cell];
        if (leads_out(s, cell) || s->w->exit[cell]) return true;
    }
    return false;
}

/* Does a way go on beyond the end? Asked from as far inside as the aisle is broad: its end may be
 * askew. */
static bool goes_on(const strip *s, double end_m, double sign) {
    double step_m = s->w->column_m / 2.0, back_m = 2.0 * s->half_m;
    for (double across_m = -s->half_m; across_m <= s->half_m; across_m += step_m) {
        gradin_vec2 from_m = {end_m - sign * back_m, across_m};
        int cell = ways_cell(s->w, of_strip(s, from_m.x, from_m.y));
        if (cell >= 0 && s->is_in[cell] &&
            is_walked_out(s, from_m, (gradin_vec2){sign, 0.0}, back_m + BEYOND_M))
            return true;
    }
    return false;
}

static bool has_side_way(const strip *s, double along_m, double sign) {
    return is_walked_out(s, (gradin_vec2){along_m, 0.0}, (gradin_vec2){0.0, sign},
                         s->half_m + BESIDE_M);
}

static double dead_length_m(const strip *s, double end_m, double sign, bool other_goes_on) {
    double whole_m = s->high_m - s->low_m, step_m = s->w->column_m / 2.0;
    for (double back_m = 0.0; back_m <= whole_m; back_m += step_m)
        if (has_side_way(s, end_m - sign * back_m, 1.0) ||
            has_side_way(s, end_m - sign * back_m, -1.0))
            return back_m;
    return other_goes_on ? whole_m : INFINITY;
}

/* The lift section there, and which way it stands; else what the floor does. */
static const char *other_floor(gradin_arena *arena, const gradin_model *m, gradin_vec2 at_m,
                               bool is_higher) {
    for (int i = 0; i < m->n_section; i++)
        if (gradin_polygon_contains((gradin_polygon){m->section[i].corner_m, 4}, at_m))
            return gradin_arena_print(arena, "%s, which is %s", m->section[i].name,
                                      is_higher ? "higher" : "lower");
    return is_higher ? "a higher floor" : "a drop";
}

/* NULL when out of memory. */
static const char *what_ends_it(const strip *s, gradin_arena *arena, gradin_vec2 end_m,
                                double sign) {
    const gradin_model *m = s->w->model;
    double floor_m = fit_surface_m(m, end_m, 0.0);
    for (double off_m = 0.05; off_m <= BEYOND_M; off_m += 0.05) {
        gradin_vec2 at_m = {end_m.x + sign * s->along.x * off_m,
                            end_m.y + sign * s->along.y * off_m};
        for (int k = 0; k < m->n_focus; k++)
            if (m->focus[k].kind == GRADIN_FOCUS_FLOOR &&
                gradin_polygon_contains(m->focus[k].polygon, at_m))
                return m->focus[k].name;
        const char *thing = fit_obstacle(m, at_m, floor_m, 0.0);
        if (thing) return thing;
        double next_m = fit_surface_m(m, at_m, floor_m);
        if (!(fabs(next_m - floor_m) <= LEVEL_M))
            return other_floor(arena, m, at_m, next_m > floor_m);
        if (!ways_is_free(s->w, at_m, floor_m, 0.0)) return "seats";
        floor_m = next_m;
    }
    return "what is too narrow to pass";
}

typedef struct found {
    gradin_arena *arena;
    gradin_routes *routes;
    gradin_dead_end *made;
    bool failed;
} found;

/* length_m INFINITY: it leads nowhere. */
static void add_end(found *f, const strip *s, double sign, double length_m) {
    double most_m = s->w->model->machinery->rules.dead_end_m;
    gradin_dead_end e = {.aisle = s->aisle->name};
    e.end_m = of_strip(s, sign > 0.0 ? s->high_m : s->low_m, 0.0);
    e.at = what_ends_it(s, f->arena, e.end_m, sign);
    f->failed |= !e.at;
    e.is_nowhere = isinf(length_m);
    e.length_m = e.is_nowhere ? s->high_m - s->low_m + s->w->column_m : length_m;
    e.is_long = most_m > 0.0 && (e.is_nowhere || e.length_m > most_m + 0.5 * s->w->column_m);
    f->routes->n_long_dead_end += e.is_long;
    f->made[f->routes->n_dead_end++] = e;
}

static void look_at_ends(found *f, const strip *s) {
    bool goes[2] = {goes_on(s, s->low_m, -1.0), goes_on(s, s->high_m, 1.0)};
    double least_m = s->half_m * 2.0 + s->w->column_m; /* shorter: a corner, no end */
    for (int k = 0; k < 2; k++) {
        double sign = k ? 1.0 : -1.0;
        if (goes[k]) continue;
        double length_m = dead_length_m(s, k ? s->high_m : s->low_m, sign, goes[1 - k]);
        if (length_m > least_m) add_end(f, s, sign, length_m);
        if (isinf(length_m)) return;
    }
}

/* Over a slab or a set piece that nobody climbs in one step. */
static bool is_on_deck(const strip *s) {
    const gradin_model *m = s->w->model;
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].top_m > LEVEL_M &&
            gradin_polygon_contains(m->solid[i].polygon, s->middle_m))
            return true;
    return false;
}

/* Is everybody on the aisle's sheet on a deck, whose stairs are in no file? */
static bool is_of_decks(const gradin_model *m, int sheet) {
    int n = 0;
    for (int i = 0; i < m->seats.n_seat; i++) {
        if (m->seats.sheet[i] != sheet) continue;
        if (!fit_is_on_deck(m, i)) return false;
        n++;
    }
    return n > 0;
}

/* Told at its lower end, where people would leave it. */
static void look_at_cut_off(found *f, const strip *s) {
    const gradin_model *m = s->w->model;
    bool is_high_lower = fit_surface_m(m, of_strip(s, s->high_m, 0.0), 0.0) <
                         fit_surface_m(m, of_strip(s, s->low_m, 0.0), 0.0);
    add_end(f, s, is_high_lower ? 1.0 : -1.0, INFINITY);
}

static void look_at(found *f, strip *s) {
    mark(s);
    if (s->n_in == 0 || (!s->is_walked && is_on_deck(s))) return;
    lay(s);
    f->routes->n_aisle++;
    if (!s->is_walked) {
        look_at_cut_off(f, s);
    } else if (s->high_m - s->low_m >= LONG * 2.0 * s->half_m) {
        ways_widest(s->w, s->is_in, WAYS_BODY_CM);
        look_at_ends(f, s);
    }
}

bool fit_dead_ends(ways *w, gradin_arena *arena, gradin_routes *r) {
    const gradin_model *m = w->model;
    found f = {.arena = arena, .routes = r};
    strip s = {.w = w};
    f.made = gradin_arena_alloc(arena, 2 * (size_t)m->n_aisle + 1, sizeof *f.made);
    s.is_in = gradin_arena_alloc(w->arena, (size_t)w->n_cell, sizeof *s.is_in);
    s.part = gradin_arena_alloc(w->arena, (size_t)w->n_cell, sizeof *s.part);
    if (!f.made || !s.is_in || !s.part) return false;
    for (int i = 0; i < m->n_aisle; i++) {
        s.aisle = &m->aisle[i];
        if (!is_of_decks(m, m->aisle_sheet[i])) look_at(&f, &s);
    }
    r->dead_end = f.made;
    return !f.failed;
}
