/* Edges of what stands without a machine: parts of the fixed floor, slabs (decks, galleries), set
 * pieces, the platforms under rows, and the sides of open stairs, whatever floor lies beside them:
 * a vomitory through a bank. Each side is cut into short pieces, asked by drop.c; open pieces that
 * follow each other round an outline, bending no more than an arc does, are one edge.
 *
 * Looked at is what people can stand on: with headroom above, and no narrower than a step. So a
 * canopy under the ceiling, a flat of scenery and a set piece that hangs are none, and a reflector
 * over the seats that is a slab is. The decks of towers are the maker's. Headroom, width and bend
 * are common practice, no source. */
#include "studies/fit/fit.h"

/* The longest piece, no longer than an opening may be in a guard: common practice, no source. */
static const double PIECE_M = 0.10;
static const double HEADROOM_M = 1.9;
static const double NARROW_M = 0.25; /* twice the area over the perimeter */
static const double BEND_COS = 0.94; /* 20 degrees */
static const double STRAIGHT_COS = 1.0 - 1e-12;
static const double DROP_STEP_M = 0.05;  /* a greater change of the drop begins another edge */
static const double STAGE_BELOW_M = 2.0; /* people play up to this far below what is looked at */
static const double TOUCH_M = 0.02;
static const double RESTS_M = 0.3;   /* above what carries it */
static const double CORNER_M = 0.05; /* inwards to where a corner may be borne */

typedef struct ring {
    const char *name;
    gradin_polygon polygon;
    double height_m;
    gradin_edge_of of;
    bool is_stage;
    double top_deg;                   /* of an open stair: where it comes up */
    const gradin_floor_region *floor; /* of a part of the fixed floor: the height */
} ring;

static double turn_sign(gradin_polygon p) {
    double doubled_m2 = 0.0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        doubled_m2 += a.x * b.y - b.x * a.y;
    }
    return doubled_m2 < 0.0 ? -1.0 : 1.0;
}

/* Does the piece go on where the edge before it ended, about as it went? */
static bool continues(const gradin_open_edge *e, gradin_vec2 way, gradin_vec2 next_way,
                      gradin_vec2 at_m, double before_m, double drop_m) {
    bool is_joined = hypot(e->to_m.x - at_m.x, e->to_m.y - at_m.y) < 1e-6;
    bool is_like = isnan(drop_m) ? isnan(before_m) : fabs(drop_m - before_m) <= DROP_STEP_M;
    return is_joined && is_like && way.x * next_way.x + way.y * next_way.y >= BEND_COS;
}

typedef struct walk {
    const gradin_model *model;
    const ring *round;
    fit_edges_made *made;
    int first;       /* edges before this one are not the ring's */
    gradin_vec2 way; /* of the last open piece, */
    double drop_m;   /* and its drop */
    double sign;     /* +1 when the outline runs counter-clockwise */
} walk;

/* A part of the floor where nothing covers it: a platform on it has edges of its own. */
static bool is_floor_open(const walk *w, gradin_vec2 middle_m, gradin_vec2 outward, double *upper_m,
                          double *drop_m) {
    gradin_vec2 inner_m = {middle_m.x - outward.x * TOUCH_M, middle_m.y - outward.y * TOUCH_M};
    double inner_floor_m = gradin_floor_region_z_m(w->round->floor, inner_m);
    if (fabs(fit_surface_m(w->model, inner_m, inner_floor_m) - inner_floor_m) > TOUCH_M)
        return false;
    return fit_is_open(w->model, middle_m, outward,
                       gradin_floor_region_z_m(w->round->floor, middle_m), upper_m, drop_m);
}

/* An open stair lies inside its ring, and people fall inwards; all else falls outwards. */
static bool is_open(const walk *w, gradin_vec2 middle_m, gradin_vec2 outward, double *upper_m,
                    double *drop_m) {
    if (w->round->of == GRADIN_EDGE_PASSAGE)
        return fit_is_passage_side(w->model, middle_m, outward, upper_m, drop_m);
    if (w->round->floor) return is_floor_open(w, middle_m, outward, upper_m, drop_m);
    if (w->round->of != GRADIN_EDGE_STAIR)
        return fit_is_open(w->model, middle_m, outward, w->round->height_m, upper_m, drop_m);
    *drop_m = NAN;
    double out_deg = gradin_bearing_deg(outward.x, outward.y);
    return !(gradin_bearing_gap_deg(out_deg, w->round->top_deg) < 45.0) && /* NAN: nowhere */
           fit_is_stair_side(w->model, middle_m, outward, upper_m);
}

static bool add_piece(walk *w, gradin_vec2 a, gradin_vec2 b, gradin_vec2 way) {
    gradin_vec2 middle_m = {(a.x + b.x) / 2.0, (a.y + b.y) / 2.0};
    gradin_vec2 outward = {w->sign * way.y, -w->sign * way.x};
    double upper_m, drop_m, piece_m = hypot(b.x - a.x, b.y - a.y);
    if (!is_open(w, middle_m, outward, &upper_m, &drop_m)) return true;
    gradin_open_edge *last = w->made->n > w->first ? &w->made->item[w->made->n - 1] : NULL;
    bool goes_on = last && continues(last, w->way, way, a, w->drop_m, drop_m);
    bool is_bent = w->way.x * way.x + w->way.y * way.y < STRAIGHT_COS;
    w->way = way;
    w->drop_m = drop_m;
    if (goes_on) {
        last->length_m += piece_m;
        last->low_m = fmin(last->low_m, upper_m);
        last->high_m = fmax(last->high_m, upper_m);
        if (drop_m > last->drop_m) last->drop_m = drop_m;
        return fit_lead_on(w->made, b, is_bent);
    }
    gradin_open_edge e = {.where = w->round->name,
                          .from_m = a,
                          .to_m = b,
                          .low_m = upper_m,
                          .high_m = upper_m,
                          .drop_m = drop_m,
                          .is_stage = w->round->is_stage &&
                                      fit_is_before_seats(w->model, middle_m, outward),
                          .of = w->round->of,
                          .length_m = piece_m};
    return fit_add_edge(w->made, e);
}

static bool add_side(walk *w, gradin_vec2 a, gradin_vec2 b) {
    double length_m = hypot(b.x - a.x, b.y - a.y);
    int n = (int)ceil(length_m / PIECE_M - 1e-9);
    gradin_vec2 way = {(b.x - a.x) / length_m, (b.y - a.y) / length_m};
    for (int i = 0; i < n; i++) {
        double from = (double)i / n, to = (double)(i + 1) / n;
        gradin_vec2 from_m = {a.x + (b.x - a.x) * from, a.y + (b.y - a.y) * from};
        gradin_vec2 to_m =
            i + 1 == n ? b : (gradin_vec2){a.x + (b.x - a.x) * to, a.y + (b.y - a.y) * to};
        if (!add_piece(w, from_m, to_m, way)) return false;
    }
    return true;
}

static bool add_ring(const gradin_model *m, fit_edges_made *made, const ring *round) {
    gradin_polygon p = round->polygon;
    walk w = {.model = m, .round = round, .made = made, .first = made->n, .sign = turn_sign(p)};
    for (int i = 0; i < p.n_corner; i++)
        if (!add_side(&w, p.corner_m[i], p.corner_m[(i + 1) % p.n_corner])) return false;
    return true;
}

/* Under the ceiling, or under another solid that covers its middle. */
static bool has_headroom(const gradin_model *m, const gradin_solid *s) {
    gradin_vec2 middle_m = gradin_polygon_centroid_m(s->polygon);
    if (s->top_m + HEADROOM_M > m->ceiling_m) return false;
    for (int i = 0; i < m->n_solid; i++) {
        const gradin_solid *over = &m->solid[i];
        if (over != s && over->bottom_m >= s->top_m - TOUCH_M &&
            over->bottom_m < s->top_m + HEADROOM_M &&
            gradin_polygon_contains(over->polygon, middle_m))
            return false;
    }
    return true;
}

/* From a set piece down to what carries it there, or to the floor; an open stair is a hole in that.
 */
static double gap_m(const gradin_model *m, const gradin_solid *s, gradin_vec2 at_m) {
    double carrier_m = fit_carrier_m(m, at_m, s->bottom_m);
    return s->bottom_m - (isinf(carrier_m) ? 0.0 : carrier_m);
}

static gradin_vec2 inward(gradin_vec2 a, gradin_vec2 b, double sign) {
    double length_m = hypot(b.x - a.x, b.y - a.y);
    return (gradin_vec2){-sign * (b.y - a.y) / length_m, sign * (b.x - a.x) / length_m};
}

/* The least gap under the corners, each drawn inwards from both of its sides. */
static double corner_gap_m(const gradin_model *m, const gradin_solid *s) {
    gradin_polygon p = s->polygon;
    double least_m = INFINITY, sign = turn_sign(p);
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 at_m = p.corner_m[i];
        gradin_vec2 one = inward(p.corner_m[(i + p.n_corner - 1) % p.n_corner], at_m, sign);
        gradin_vec2 other = inward(at_m, p.corner_m[(i + 1) % p.n_corner], sign);
        at_m.x += CORNER_M * (one.x + other.x);
        at_m.y += CORNER_M * (one.y + other.y);
        least_m = fmin(least_m, gap_m(m, s, at_m));
    }
    return least_m;
}

/* A set piece is flown when people can walk under its middle and nothing bears it there or at a
 * corner: nobody gets there. A deck without legs in the drawing is none. */
static bool is_flown(const gradin_model *m, const gradin_solid *s) {
    gradin_vec2 middle_m = gradin_polygon_centroid_m(s->polygon);
    if (s->kind != GRADIN_SOLID_SET) return false;
    double at_corners_m = corner_gap_m(m, s);
    bool is_whole = gradin_polygon_contains(s->polygon, middle_m); /* not so: an L or a ring */
    double below_m = is_whole ? gap_m(m, s, middle_m) : at_corners_m;
    return below_m > HEADROOM_M && at_corners_m > RESTS_M;
}

static bool is_stood_on(const gradin_model *m, const gradin_solid *s) {
    if (s->is_of_tower || (s->kind != GRADIN_SOLID_SLAB && s->kind != GRADIN_SOLID_SET) ||
        is_flown(m, s))
        return false;
    return 2.0 * gradin_polygon_area_m2(s->polygon) >=
               NARROW_M * gradin_polygon_perimeter_m(s->polygon) &&
           has_headroom(m, s);
}

/* A set piece within a focus area is looked at itself; a slab is, that carries part of one. */
static bool carries_focus(const gradin_model *m, const gradin_solid *s) {
    for (int i = 0; i < m->n_focus; i++) {
        if (m->focus[i].kind != GRADIN_FOCUS_FLOOR) continue;
        gradin_vec2 middle_m = gradin_polygon_centroid_m(s->polygon);
        double above_m = gradin_focus_z_m(&m->focus[i], middle_m) - s->top_m;
        bool is_under = above_m > -TOUCH_M && above_m < STAGE_BELOW_M;
        if ((is_under || s->kind == GRADIN_SOLID_SET) &&
            gradin_polygon_overlap(s->polygon, m->focus[i].polygon, TOUCH_M))
            return true;
    }
    return false;
}

static bool add_solids(const gradin_model *m, fit_edges_made *made) {
    for (int i = 0; i < m->n_solid; i++) {
        const gradin_solid *s = &m->solid[i];
        ring round = {.name = s->name,
                      .polygon = s->polygon,
                      .height_m = s->top_m,
                      .of = s->kind == GRADIN_SOLID_SET ? GRADIN_EDGE_SET : GRADIN_EDGE_SLAB};
        if (!is_stood_on(m, s)) continue;
        round.is_stage = carries_focus(m, s);
        if (!add_ring(m, made, &round)) return false;
    }
    return true;
}

/* Sides of open floor panels from which one can fall: not where the stair comes up, a wall stands
 * or the next stair begins. */
bool fit_stair_edges(const gradin_model *m, fit_edges_made *made) {
    for (int i = 0; i < m->n_vomitory; i++) {
        ring round = {.name = m->vomitory[i].name,
                      .polygon = m->vomitory[i].polygon,
                      .of = m->vomitory_passage[i] ? GRADIN_EDGE_PASSAGE : GRADIN_EDGE_STAIR,
                      .top_deg = m->vomitory_top_deg[i]};
        if (!add_ring(m, made, &round)) return false;
    }
    return true;
}

/* People play on it where a floor of the focus lies on it or above it. */
static bool is_stage_floor(const gradin_model *m, const gradin_floor_region *f) {
    for (int i = 0; i < m->n_focus; i++) {
        if (m->focus[i].kind != GRADIN_FOCUS_FLOOR ||
            !gradin_polygon_overlap(f->polygon, m->focus[i].polygon, TOUCH_M))
            continue;
        gradin_vec2 middle_m = gradin_polygon_centroid_m(m->focus[i].polygon);
        if (!gradin_polygon_contains(f->polygon, middle_m))
            middle_m = gradin_polygon_centroid_m(f->polygon);
        double above_m =
            gradin_focus_z_m(&m->focus[i], middle_m) - gradin_floor_region_z_m(f, middle_m);
        if (above_m > -TOUCH_M && above_m < STAGE_BELOW_M) return true;
    }
    return false;
}

static bool add_floors(const gradin_model *m, fit_edges_made *made) {
    for (int i = 0; i < m->n_floor; i++) {
        ring round = {.name = m->floor[i].name,
                      .polygon = m->floor[i].polygon,
                      .of = GRADIN_EDGE_FLOOR,
                      .is_stage = is_stage_floor(m, &m->floor[i]),
                      .floor = &m->floor[i]};
        if (!add_ring(m, made, &round)) return false;
    }
    return true;
}

bool fit_deck_edges(const gradin_model *m, fit_edges_made *made) {
    if (!add_floors(m, made) || !add_solids(m, made)) return false;
    for (int i = 0; i < m->n_platform; i++) {
        const gradin_platform *p = &m->platform[i];
        ring round = {.name = p->name,
                      .polygon = p->polygon,
                      .height_m = p->top_m,
                      .of = GRADIN_EDGE_PLATFORM};
        if (!add_ring(m, made, &round)) return false;
    }
    return true;
}
