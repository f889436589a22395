/* What is drawn besides what is counted: walls, glass and shades as they are set, doors, lifts
 * below the floor, chests and chairs, figures for scale. Sizes of chests, chairs and figures are
 * from memory; they hide nothing of the focus. */
#include "sightline/view/view.h"

static const double inward_m = 0.07; /* elements may be stated up to 0.05 m off their wall */
static const double depth_m = 30.0;  /* walls below the floor, for pits */
static const double chest_half_m = 0.10, seat_up_m = 0.42;
static const double back_low_m = 0.14, back_high_m = 0.85, back_half_m = 0.035;

static bool add_quad(view_room *room, const gradin_vec3 c[4], gradin_view_thing thing, int what) {
    return view_add(room, gradin_triangle(c[0], c[1], c[2]), GRADIN_NO_OWNER, thing, what) &&
           view_add(room, gradin_triangle(c[0], c[2], c[3]), GRADIN_NO_OWNER, thing, what);
}

static bool add_walls(view_room *room) {
    gradin_polygon p = room->model->footprint;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        const gradin_vec3 corner[4] = {{a.x, a.y, -depth_m},
                                       {b.x, b.y, -depth_m},
                                       {b.x, b.y, room->model->ceiling_m},
                                       {a.x, a.y, room->model->ceiling_m}};
        if (!add_quad(room, corner, GRADIN_VIEW_WALL, i)) return false;
    }
    return true;
}

/* Part of an element's rectangle between two heights, drawn in front of its wall. */
static bool add_part(view_room *room, int element, double from_m, double to_m,
                     gradin_view_thing thing) {
    const gradin_element *e = &room->model->element[element];
    gradin_vec3 in = gradin_scale(gradin_element_frame(e).outward, -inward_m);
    const double at[4][2] = {{0.0, from_m}, {e->width_m, from_m}, {e->width_m, to_m}, {0.0, to_m}};
    gradin_vec3 corner[4];
    if (!(to_m > from_m)) return true;
    for (int i = 0; i < 4; i++)
        corner[i] = gradin_add(gradin_element_point_m(e, at[i][0], at[i][1]), in);
    return add_quad(room, corner, thing, element);
}

/* A shade that is partly shut hangs from the top (common practice, no source). */
static bool add_pane(view_room *room, int element) {
    const gradin_element *e = &room->model->element[element];
    double closed = e->shade < 0 ? 0.0 : room->model->shade[e->shade].closed;
    double edge_m = e->height_m * (1.0 - fmin(fmax(closed, 0.0), 1.0));
    return add_part(room, element, 0.0, edge_m, GRADIN_VIEW_GLASS) &&
           add_part(room, element, edge_m, e->height_m, GRADIN_VIEW_SHADE);
}

static bool add_elements(view_room *room) {
    const gradin_model *m = room->model;
    for (int i = 0; i < m->n_element; i++) {
        if (m->element[i].kind == GRADIN_ELEMENT_PANE && !add_pane(room, i)) return false;
        if (m->element[i].kind == GRADIN_ELEMENT_DOOR &&
            !add_part(room, i, 0.0, m->element[i].height_m, GRADIN_VIEW_DOOR))
            return false;
    }
    return true;
}

/* Treads below the floor are no occluders of the model; of a terraced section the whole is drawn at
 * its lowest tread. */
static bool add_pits(view_room *room) {
    const gradin_model *m = room->model;
    room->pit_m = gradin_arena_alloc(room->arena, (size_t)m->n_section, sizeof *room->pit_m);
    if (!room->pit_m) return false;
    for (int i = 0; i < m->n_section; i++) {
        double top_m = m->section[i].machine->setting.position;
        if (top_m > -1e-3) continue;
        for (int k = 0; k < 4; k++) room->pit_m[room->n_pit][k] = m->section[i].corner_m[k];
        gradin_polygon p = {room->pit_m[room->n_pit++], 4};
        if (!view_add(room, gradin_prism(p, top_m - 0.3, top_m), GRADIN_NO_OWNER, GRADIN_VIEW_FLOOR,
                      1 + i))
            return false;
    }
    return true;
}

static gradin_vec3 behind(gradin_vec3 from_m, gradin_vec2 ahead, double by_m, double z_m) {
    return (gradin_vec3){from_m.x - ahead.x * by_m, from_m.y - ahead.y * by_m, z_m};
}

static bool add_body(view_room *room, int seat) {
    const gradin_seats *s = &room->model->seats;
    const gradin_audience *who = &room->model->audience;
    gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[seat]);
    double floor_m = s->floor_m[seat].z, low_m = floor_m + seat_up_m;
    double high_m = s->eye_m[seat].z - who->shoulder_drop_m - 0.05;
    double half_m = fmax(who->shoulder_breadth_m / 2.0 - 0.05, 0.05);
    double back_m = 0.4 * who->head_length_m; /* the head's middle behind the eye */
    gradin_vec3 chest_m = behind(s->eye_m[seat], ahead, back_m, 0.5 * (low_m + high_m));
    if (high_m > low_m && !view_add(room,
                                    gradin_box(chest_m, s->facing_deg[seat], chest_half_m, half_m,
                                               0.5 * (high_m - low_m)),
                                    seat, GRADIN_VIEW_CHEST, seat))
        return false;
    if (s->kind[seat] == GRADIN_SEAT_WHEELCHAIR) return true;
    gradin_vec3 back = behind(s->eye_m[seat], ahead, back_m + chest_half_m + 1.5 * back_half_m,
                              floor_m + 0.5 * (back_low_m + back_high_m));
    return view_add(room,
                    gradin_box(back, s->facing_deg[seat], back_half_m,
                               fmax(0.5 * s->width_m[seat] - 0.03, 0.05),
                               0.5 * (back_high_m - back_low_m)),
                    seat, GRADIN_VIEW_CHAIR, seat);
}

/* A person who stands, 1.7 m high: places across and up (from memory). */
static bool add_limb(view_room *room, gradin_vec3 foot_m, double bearing_deg, const double limb[5],
                     int number) {
    gradin_vec2 right = gradin_bearing_unit(bearing_deg + 90.0);
    gradin_vec3 a = {foot_m.x + limb[0] * right.x, foot_m.y + limb[0] * right.y,
                     foot_m.z + limb[1]};
    gradin_vec3 b = {foot_m.x + limb[2] * right.x, foot_m.y + limb[2] * right.y,
                     foot_m.z + limb[3]};
    return view_add(room, gradin_capsule(a, b, limb[4]), GRADIN_NO_OWNER, GRADIN_VIEW_FIGURE,
                    number);
}

static bool add_figure(view_room *room, gradin_vec3 at_m, double bearing_deg, int number) {
    static const double limb[][5] = {
        {-0.10, 0.07, -0.09, 0.85, 0.070}, {0.10, 0.07, 0.09, 0.85, 0.070},
        {-0.17, 1.34, 0.17, 1.34, 0.065},  {-0.21, 1.33, -0.27, 0.80, 0.045},
        {0.21, 1.33, 0.27, 0.80, 0.045},   {0.0, 1.35, 0.0, 1.55, 0.050}};
    for (size_t i = 0; i < sizeof limb / sizeof *limb; i++)
        if (!add_limb(room, at_m, bearing_deg, limb[i], number)) return false;
    gradin_vec3 chest = {at_m.x, at_m.y, at_m.z + 1.10};
    gradin_vec3 head = {at_m.x, at_m.y, at_m.z + GRADIN_VIEW_FIGURE_M - 0.115};
    return view_add(room, gradin_ellipsoid(chest, bearing_deg, 0.12, 0.175, 0.34), GRADIN_NO_OWNER,
                    GRADIN_VIEW_FIGURE, number) &&
           view_add(room, gradin_ellipsoid(head, bearing_deg, 0.10, 0.08, 0.115), GRADIN_NO_OWNER,
                    GRADIN_VIEW_FIGURE, number);
}

/* One in the middle of a floor, others two thirds of the way from there to its ends along and
 * across, all on corners of the squares. */
static bool add_figures(view_room *room, const gradin_view *view, int area) {
    static const double way[5][2] = {{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    const gradin_focus *focus = &room->model->focus[area];
    gradin_vec2 origin = view->square_origin_m[area], along = view->square_along[area];
    for (int k = 0; k < 5; k++) {
        gradin_vec2 unit = {way[k][0] * along.x - way[k][1] * along.y,
                            way[k][0] * along.y + way[k][1] * along.x};
        double out_m = 0.0;
        while (gradin_polygon_contains(focus->polygon, (gradin_vec2){origin.x + unit.x * out_m,
                                                                     origin.y + unit.y * out_m}) &&
               out_m < 200.0 && k > 0)
            out_m += GRADIN_VIEW_SQUARE_M;
        out_m = floor(out_m * 2.0 / 3.0);
        if (k > 0 && out_m < 1.0) continue;
        gradin_vec2 at = {origin.x + unit.x * out_m, origin.y + unit.y * out_m};
        gradin_vec3 foot = {at.x, at.y, gradin_focus_z_m(focus, at)};
        if (view_hangs(focus)) foot.z -= focus->over_floor_m;
        double bearing_deg = gradin_bearing_deg(view->eye_m.x - at.x, view->eye_m.y - at.y);
        if (gradin_polygon_contains(focus->polygon, at) &&
            !add_figure(room, foot, bearing_deg, 5 * area + k))
            return false;
    }
    return true;
}

/* Nobody stands in the air: over a floor that is an area, too, figures stand on that. */
static bool is_trodden(const gradin_focus *f) {
    return f->kind == GRADIN_FOCUS_FLOOR && (!view_hangs(f) || f->is_raised);
}

/* A ball of 0.1 m for a point that is looked at. */
static bool add_point(view_room *room, int area) {
    const gradin_focus *f = &room->model->focus[area];
    return f->kind != GRADIN_FOCUS_POINT ||
           view_add(room, gradin_ellipsoid(gradin_focus_middle_m(f), 0.0, 0.1, 0.1, 0.1),
                    GRADIN_NO_OWNER, GRADIN_VIEW_POINT, area);
}

bool view_furnish(view_room *room, const gradin_view *view) {
    const gradin_model *m = room->model;
    if (!add_walls(room) || !add_elements(room) || !add_pits(room)) return false;
    for (int i = 0; i < m->seats.n_seat; i++)
        if (!add_body(room, i)) return false;
    for (int a = 0; a < m->n_focus; a++)
        if (!add_point(room, a) || (is_trodden(&m->focus[a]) && !add_figures(room, view, a)))
            return false;
    return true;
}
