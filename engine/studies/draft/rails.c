/* Rails along the open edges that the rough checks find, the stage's own excepted. A rail stands
 * just inside its edge. Along rising treads its feet are the front ends of the treads, so that it
 * runs on the pitch line of the nosings and no tread lies nearer to its top than its height. */
#include "studies/draft/draft.h"
#include "studies/fit/fit.h"

static const double INSET_M = 0.05; /* from the edge, and from the ends of each tread */
static const double PIECE_M = 0.05; /* step at which treads are looked for along an edge */
static const double LEVEL_M = 0.01;
enum { MAX_POINT = 120 };

typedef struct run {
    gradin_vec2 from_m, unit; /* along the edge, on the tread */
    double length_m;
} run;

static gradin_vec2 at(const run *r, double s_m) {
    return (gradin_vec2){r->from_m.x + r->unit.x * s_m, r->from_m.y + r->unit.y * s_m};
}

static double height_m(const gradin_model *m, const run *r, double s_m) {
    return fit_surface_m(m, at(r, s_m), 0.0);
}

/* The line just inside: on the higher side, or beside an open stair on its floor. */
static run inside(const gradin_model *m, const gradin_open_edge *e) {
    double dx = e->to_m.x - e->from_m.x, dy = e->to_m.y - e->from_m.y, length_m = hypot(dx, dy);
    gradin_vec2 unit = {dx / length_m, dy / length_m};
    run left = {{e->from_m.x - unit.y * INSET_M, e->from_m.y + unit.x * INSET_M}, unit, length_m};
    run right = {{e->from_m.x + unit.y * INSET_M, e->from_m.y - unit.x * INSET_M}, unit, length_m};
    double middle_m = length_m / 2.0;
    return height_m(m, &left, middle_m) > height_m(m, &right, middle_m) ? left : right;
}

static run reversed(const run *r) {
    return (run){at(r, r->length_m), {-r->unit.x, -r->unit.y}, r->length_m};
}

/* Where the tread changes between two points of the run, to a tenth of a millimetre. */
static double riser_m(const gradin_model *m, const run *r, double low_m, double high_m, double z) {
    while (high_m - low_m > 1e-4) {
        double middle_m = (low_m + high_m) / 2.0;
        if (fabs(height_m(m, r, middle_m) - z) < LEVEL_M)
            low_m = middle_m;
        else
            high_m = middle_m;
    }
    return floor(1000.0 * high_m + 0.5) / 1000.0;
}

/* Where treads begin along the run: begin[n], and their heights. False when there are too many. */
static bool find_treads(const gradin_model *m, const run *r, double *begin_m, double *z_m, int *n) {
    int n_piece = (int)ceil(r->length_m / PIECE_M);
    *n = 0;
    for (int i = 0; i < n_piece; i++) {
        double s_m = (i + 0.5) * r->length_m / n_piece, z = height_m(m, r, s_m);
        if (*n > 0 && fabs(z - z_m[*n - 1]) < LEVEL_M) continue;
        if (*n == MAX_POINT / 2 - 1) return false;
        double before_m = (i - 0.5) * r->length_m / n_piece;
        begin_m[*n] = i == 0 ? 0.0 : riser_m(m, r, before_m, s_m, z_m[*n - 1]);
        z_m[(*n)++] = z;
    }
    return *n > 0;
}

static bool is_rising(const double *z_m, int n) {
    for (int i = 1; i < n; i++)
        if (z_m[i] < z_m[i - 1]) return false;
    return true;
}

/* Does the middle foot lie on the line between its neighbours, in place and height? */
static bool is_between(double s0, double z0, double s1, double z1, double s2, double z2) {
    return fabs(z0 + (z2 - z0) * (s1 - s0) / (s2 - s0) - z1) < 0.5 * LEVEL_M;
}

/* Feet along the run: the front ends of rising treads, or both ends of every tread. */
static int find_feet(const run *r, const double *begin_m, const double *z_m, int n, double *foot_m,
                     double *foot_z_m) {
    bool by_nosing = is_rising(z_m, n);
    int n_foot = 0;
    for (int i = 0; i < n; i++) {
        double end_m = i + 1 < n ? begin_m[i + 1] : r->length_m;
        foot_m[n_foot] = begin_m[i] + INSET_M;
        foot_z_m[n_foot++] = z_m[i];
        if (by_nosing && i + 1 < n) continue;
        foot_m[n_foot] = end_m - INSET_M;
        foot_z_m[n_foot++] = z_m[i];
    }
    int kept = n_foot > 0;
    for (int i = 1; i < n_foot; i++) {
        bool last = i == n_foot - 1;
        if (!last && is_between(foot_m[kept - 1], foot_z_m[kept - 1], foot_m[i], foot_z_m[i],
                                foot_m[i + 1], foot_z_m[i + 1]))
            continue;
        foot_m[kept] = foot_m[i];
        foot_z_m[kept++] = foot_z_m[i];
    }
    return kept;
}

static const char *side_of(const run *r, const gradin_open_edge *e) {
    static const char *const name[4] = {"north", "east", "south", "west"};
    gradin_vec2 middle_m = {(e->from_m.x + e->to_m.x) / 2.0, (e->from_m.y + e->to_m.y) / 2.0};
    gradin_vec2 in_m = at(r, r->length_m / 2.0);
    double out_deg = gradin_bearing_deg(middle_m.x - in_m.x, middle_m.y - in_m.y);
    if (isnan(e->drop_m) && e->high_m == 0.0) out_deg += 180.0; /* round a stair */
    return name[(int)floor(gradin_wrap_360_deg(out_deg) / 90.0 + 0.5) % 4];
}

static bool add_rail(gradin_arena *arena, const gradin_model *m, const gradin_open_edge *e,
                     int number, draft_rail *rail) {
    double begin_m[MAX_POINT], z_m[MAX_POINT], foot_m[MAX_POINT], foot_z_m[MAX_POINT];
    run r = inside(m, e), back;
    int n;
    if (!find_treads(m, &r, begin_m, z_m, &n)) return false;
    back = reversed(&r);
    if (!is_rising(z_m, n) && !find_treads(m, &back, begin_m, z_m, &n)) return false;
    run way = is_rising(z_m, n) && n > 1 && height_m(m, &r, INSET_M) > z_m[0] + LEVEL_M ? back : r;
    if (!find_treads(m, &way, begin_m, z_m, &n)) return false;
    int n_foot = find_feet(&way, begin_m, z_m, n, foot_m, foot_z_m);
    rail->name = gradin_arena_print(arena, "rail %d, %s %s", number, e->where, side_of(&r, e));
    rail->point_m = gradin_arena_alloc(arena, (size_t)n_foot, sizeof *rail->point_m);
    rail->n_point = n_foot;
    if (!rail->name || !rail->point_m) return false;
    for (int i = 0; i < n_foot; i++) rail->point_m[i] = at(&way, foot_m[i]);
    return true;
}

/* Of what the draft moves: decks that stand anyway are guarded, or not, without it. */
static bool is_its_own(const gradin_open_edge *e) {
    return !e->is_stage && (e->of == GRADIN_EDGE_LIFT || e->of == GRADIN_EDGE_STAIR ||
                            e->of == GRADIN_EDGE_PLATFORM);
}

bool draft_has_open_edges(const gradin_fit *fit) {
    for (int i = 0; i < fit->n_edge; i++)
        if (is_its_own(&fit->edge[i])) return true;
    return false;
}

bool draft_find_rails(gradin_arena *arena, const gradin_fit *fit, const draft_rail **rail,
                      int *n_rail) {
    draft_rail *made = gradin_arena_alloc(arena, (size_t)fit->n_edge, sizeof *made);
    *n_rail = 0;
    if (!made) return false;
    for (int i = 0; i < fit->n_edge; i++) {
        const gradin_open_edge *e = &fit->edge[i];
        if (!is_its_own(e) ||
            hypot(e->to_m.x - e->from_m.x, e->to_m.y - e->from_m.y) < 3.0 * INSET_M)
            continue;
        if (!add_rail(arena, fit->model, e, *n_rail + 1, &made[*n_rail])) return false;
        ++*n_rail;
    }
    *rail = made;
    return true;
}
