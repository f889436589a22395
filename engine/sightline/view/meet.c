/* One ray of the picture: what it meets first, and whether a point of the focus on it is seen. A
 * point of the focus is hidden when an occluder of the model lies on the way to it, by the same
 * test as in the table; what is drawn besides is looked through for that. */
#include "sightline/view/view.h"

/* The ray's crossing of a focus area: its distance and the cosine on the area. */
typedef struct crossing {
    double at_m, cosine;
} crossing;

/* Square to the floor, its height 1. */
static gradin_vec3 upright_of(const gradin_focus *f) {
    const gradin_vec3 up = {0.0, 0.0, 1.0};
    if (f->slope == 0.0) return up;
    gradin_vec2 uphill = gradin_bearing_unit(f->uphill_deg);
    return (gradin_vec3){-f->slope * uphill.x, -f->slope * uphill.y, 1.0};
}

/* Of the floor, or of what lies so far below it. */
static crossing cross_floor(const gradin_focus *f, double below_m, gradin_vec3 eye,
                            gradin_vec3 way) {
    const crossing none = {INFINITY, 1.0};
    gradin_vec2 origin = f->polygon.corner_m[0];
    gradin_vec3 normal = upright_of(f);
    gradin_vec3 on = {origin.x, origin.y, gradin_focus_z_m(f, origin) - below_m};
    double down = gradin_dot(normal, way);
    double t = gradin_dot(normal, gradin_sub(on, eye)) / down;
    if (!(t > 0.0) || !isfinite(t)) return none;
    gradin_vec2 at = {eye.x + t * way.x, eye.y + t * way.y};
    if (!gradin_polygon_contains(f->polygon, at)) return none;
    /* Samples lie evenly on plan: so does what a pixel covers. */
    return (crossing){t, fabs(down)};
}

static crossing cross_upright(const gradin_focus *f, gradin_vec3 eye, gradin_vec3 way) {
    crossing best = {INFINITY, 1.0};
    for (int i = 0; i + 1 < f->n_line; i++) {
        gradin_vec2 a = f->line_m[i], b = f->line_m[i + 1];
        double dx = b.x - a.x, dy = b.y - a.y, length = hypot(dx, dy);
        double side = way.x * dy - way.y * dx;
        double t = ((a.x - eye.x) * dy - (a.y - eye.y) * dx) / side;
        double s =
            ((eye.x + t * way.x - a.x) * dx + (eye.y + t * way.y - a.y) * dy) / (length * length);
        double z = eye.z + t * way.z;
        if (t > 0.0 && t < best.at_m && s >= 0.0 && s <= 1.0 && z >= f->bottom_m && z <= f->top_m)
            best = (crossing){t, fabs(side) / length};
    }
    return best;
}

static crossing cross_area(const gradin_focus *f, gradin_vec3 eye, gradin_vec3 way) {
    if (f->kind == GRADIN_FOCUS_FLOOR) return cross_floor(f, 0.0, eye, way);
    if (f->kind == GRADIN_FOCUS_UPRIGHT) return cross_upright(f, eye, way);
    return (crossing){INFINITY, 1.0};
}

typedef struct ray {
    const view_room *room;
    const gradin_view *view;
    gradin_beam *beam;
    gradin_vec3 way;
    int32_t first; /* shape of the room that it meets first */
    double first_m;
} ray;

static gradin_vec3 point_at(const ray *r, double at_m) {
    return gradin_add(r->view->eye_m, gradin_scale(r->way, at_m));
}

static void set_normal(gradin_view_sample *s, gradin_vec3 n) {
    s->normal[0] = (float)n.x;
    s->normal[1] = (float)n.y;
    s->normal[2] = (float)n.z;
}

static void measure(ray *r) {
    double t;
    r->first = gradin_beam_first(r->beam, point_at(r, r->room->far_m), &t);
    if (r->first != GRADIN_CLEAR) r->first_m = t * r->room->far_m;
}

static bool is_hidden(const ray *r, double at_m) {
    if (r->first == GRADIN_CLEAR || !(r->first_m < at_m * (1.0 - GRADIN_SEGMENT_END))) return false;
    if (r->first < r->room->n_counted) return true;
    gradin_vec3 there = point_at(r, at_m);
    if (gradin_beam_is_listed(r->beam))
        return !gradin_beam_is_clear(r->beam, there, r->room->n_counted);
    return gradin_rays_clear(r->room->own, r->view->eye_m, r->view->seat, &there, 1, NULL) == 0;
}

static bool in_pit(const view_room *room, gradin_vec3 at_m) {
    for (int i = 0; i < room->n_pit; i++) {
        gradin_polygon pit = {room->pit_m[i], 4};
        if (gradin_polygon_contains(pit, (gradin_vec2){at_m.x, at_m.y})) return true;
    }
    return false;
}

/* Floor or ceiling where nothing stands before it. */
static void meet_level(const ray *r, gradin_view_sample *s) {
    bool is_floor = r->way.z < 0.0;
    double at_m = ((is_floor ? 0.0 : r->room->model->ceiling_m) - r->view->eye_m.z) / r->way.z;
    if (!(at_m > 0.0) || !(at_m < s->distance_m)) return;
    if (is_floor && in_pit(r->room, point_at(r, at_m))) return;
    s->distance_m = (float)at_m;
    s->thing = is_floor ? GRADIN_VIEW_FLOOR : GRADIN_VIEW_CEILING;
    s->what = 0;
    set_normal(s, (gradin_vec3){0.0, 0.0, is_floor ? 1.0 : -1.0});
}

static gradin_view_sample meet_room(const ray *r) {
    gradin_view_sample s = {.distance_m = INFINITY, .what = -1, .thing = GRADIN_VIEW_NOTHING};
    if (r->first != GRADIN_CLEAR) {
        view_label label = r->room->label[r->first];
        s = (gradin_view_sample){
            .distance_m = (float)r->first_m, .what = label.what, .thing = label.thing};
        set_normal(
            &s, view_normal(&r->room->occluder[r->first].shape, point_at(r, r->first_m), r->way));
    }
    meet_level(r, &s);
    return s;
}

/* A floor that is seen is drawn whatever stands besides before it, but figures stand on it. */
static void meet_floor(const ray *r, int area, double at_m, gradin_view_sample *s) {
    bool stays = s->thing == GRADIN_VIEW_FIGURE || s->thing == GRADIN_VIEW_POINT ||
                 s->thing == GRADIN_VIEW_FOCUS;
    if (stays && (double)s->distance_m < at_m) return;
    gradin_vec3 n = upright_of(&r->room->model->focus[area]);
    n = gradin_scale(n, (gradin_dot(n, r->way) > 0.0 ? -1.0 : 1.0) / gradin_norm(n));
    *s = (gradin_view_sample){.distance_m = (float)at_m,
                              .what = area,
                              .thing = GRADIN_VIEW_FOCUS,
                              .is_hidden = s->is_hidden,
                              .is_sheer = s->is_sheer};
    set_normal(s, n);
}

/* The squares of a floor in the air lie on what is below its middle, where that is what is met. */
static void meet_below(const ray *r, int area, gradin_view_sample *s) {
    const gradin_focus *f = &r->room->model->focus[area];
    crossing c = cross_floor(f, f->over_floor_m, r->view->eye_m, r->way);
    if (isfinite(c.at_m) && fabs((double)s->distance_m - c.at_m) <= 1e-3 * c.at_m)
        meet_floor(r, area, c.at_m, s);
}

static bool is_sheer(const gradin_focus *f) {
    return f->kind == GRADIN_FOCUS_UPRIGHT || view_hangs(f);
}

gradin_view_sample view_meet(const view_room *room, const gradin_view *view, gradin_beam *beam,
                             gradin_vec3 way, double solid_sr, view_tally *tally) {
    ray r = {room, view, beam, way, GRADIN_CLEAR, INFINITY};
    measure(&r);
    gradin_view_sample s = meet_room(&r);
    for (int a = 0; a < room->model->n_focus; a++) {
        const gradin_focus *f = &room->model->focus[a];
        crossing c = cross_area(f, view->eye_m, way);
        if (view_hangs(f) && f->is_raised) meet_below(&r, a, &s);
        if (!isfinite(c.at_m)) continue;
        bool hidden = is_hidden(&r, c.at_m);
        double covers_m2 = c.at_m * c.at_m * solid_sr / c.cosine;
        if (tally && hidden) tally->hidden_m2[a] += covers_m2;
        if (tally && !hidden) tally->seen_m2[a] += covers_m2;
        if (hidden) s.is_hidden = true;
        if (!hidden && is_sheer(f))
            s.is_sheer |= c.at_m < (double)s.distance_m;
        else if (!hidden)
            meet_floor(&r, a, c.at_m, &s);
    }
    return s;
}
