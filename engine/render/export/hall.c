/* What stands in a scene: the shapes that hide in the computation, as they are; besides, floor,
 * walls seen from inside alone, glass, doors, focus and chairs. Sizes of chairs are from memory;
 * they hide nothing in the figures. */
#include "render/export/glb.h"

#include <string.h>

static const double inward_m = 0.02, touch_m = 0.03, pit_m = 0.3, mark_m = 0.05, above_m = 0.01;

static const glb_paint floor_paint = {{0.62, 0.60, 0.57}, 1.0, false},
                       wall_paint = {{0.86, 0.86, 0.85}, 1.0, true},
                       lift_paint = {{0.50, 0.50, 0.49}, 1.0, false},
                       tower_paint = {{0.42, 0.45, 0.50}, 1.0, false},
                       structure_paint = {{0.45, 0.44, 0.43}, 1.0, false},
                       arch_paint = {{0.30, 0.26, 0.26}, 1.0, false},
                       rail_paint = {{0.20, 0.20, 0.22}, 1.0, false},
                       glass_paint = {{0.55, 0.75, 0.85}, 0.35, false},
                       door_paint = {{0.48, 0.33, 0.22}, 1.0, false},
                       focus_paint = {{0.93, 0.90, 0.82}, 1.0, false};

static void finish(glb_scene *s, int first, glb_group group, const char *name, glb_paint paint) {
    int form = glb_add_form(s, first);
    if (form >= 0)
        glb_add_node(
            s, (glb_node){
                   .name = name, .group = group, .form = form, .paint = glb_find_paint(s, paint)});
}

/* Lift sections below the floor, stairs under open panels, and parts of the floor that have a
 * height of their own. A level passage is floor. */
static gradin_polygon *holes_of(glb_scene *s, const gradin_model *m, int *n) {
    size_t most = (size_t)m->n_section + (size_t)m->n_vomitory + (size_t)m->n_floor;
    gradin_polygon *hole = gradin_arena_alloc(s->arena, most + 1, sizeof *hole);
    *n = 0;
    if (!hole) {
        s->failed = true;
        return NULL;
    }
    for (int i = 0; i < m->n_section; i++)
        if (m->section[i].machine->setting.position < -1e-3)
            hole[(*n)++] = (gradin_polygon){m->section[i].corner_m, 4};
    for (int i = 0; i < m->n_vomitory; i++)
        if (!m->vomitory_passage[i]) hole[(*n)++] = m->vomitory[i].polygon;
    for (int i = 0; i < m->n_floor; i++) hole[(*n)++] = m->floor[i].polygon;
    return hole;
}

static void add_floor(glb_scene *s, const gradin_model *m) {
    int n, first = s->all.n;
    const gradin_polygon *hole = holes_of(s, m, &n);
    if (hole) solids_cover(&s->all, m->footprint, hole, n, (slope_plane){0.0, 0.0, 0.0}, true);
    finish(s, first, GLB_ROOM, "floor", floor_paint);
    for (int i = 0; i < m->n_section; i++) {
        double top_m = m->section[i].machine->setting.position;
        if (top_m > -1e-3) continue;
        first = s->all.n;
        gradin_shape pit = {.kind = GRADIN_SHAPE_PRISM};
        pit.as.prism.polygon = (gradin_polygon){m->section[i].corner_m, 4};
        pit.as.prism.bottom_m = top_m - pit_m;
        pit.as.prism.top_m = top_m;
        solids_shape(&s->all, &pit);
        finish(s, first, GLB_LIFTS, m->section[i].name, lift_paint);
    }
}

static bool runs_left(gradin_polygon p) {
    double sum = 0.0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum > 0.0;
}

/* Their fronts look in, so that one looks into the room from outside. */
static void add_walls(glb_scene *s, const gradin_model *m) {
    gradin_polygon p = m->footprint;
    int first = s->all.n;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        gradin_vec2 from = runs_left(p) ? b : a, to = runs_left(p) ? a : b;
        const gradin_vec3 wall[4] = {{from.x, from.y, 0.0},
                                     {to.x, to.y, 0.0},
                                     {to.x, to.y, m->ceiling_m},
                                     {from.x, from.y, m->ceiling_m}};
        solids_quad(&s->all, wall);
    }
    finish(s, first, GLB_ROOM, "walls", wall_paint);
}

static int floor_of(const gradin_model *m, const char *name) {
    for (int i = 0; i < m->n_floor; i++)
        if (strcmp(m->floor[i].name, name) == 0) return i;
    return -1;
}

static slope_plane plane_of_floor(const gradin_model *m, int i) {
    const gradin_polygon *p = &m->floor[i].polygon;
    const gradin_floor_lie *lie = &m->floor_lie[i];
    return slope_rising(p->corner_m, p->n_corner, lie->low_m, lie->slope, lie->uphill_deg);
}

static bool is_on_edge(gradin_polygon p, gradin_vec2 at_m) {
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        double length_m = hypot(b.x - a.x, b.y - a.y);
        double x = b.x - a.x, y = b.y - a.y, x_m = at_m.x - a.x, y_m = at_m.y - a.y;
        double along_m = (x * x_m + y * y_m) / length_m, off_m = (x * y_m - y * x_m) / length_m;
        if (along_m > 0.0 && along_m < length_m && fabs(off_m) < touch_m) return true;
    }
    return false;
}

/* The plane on the other side of an edge of a part of the floor; 0 where there is no other part. */
static slope_plane beside(const gradin_model *m, int floor, gradin_vec2 middle_m) {
    for (int i = 0; i < m->n_floor; i++)
        if (i != floor && is_on_edge(m->floor[i].polygon, middle_m)) return plane_of_floor(m, i);
    return (slope_plane){0.0, 0.0, 0.0};
}

/* Where a part of the floor lies lower than what is beside it, up to there. */
static void add_pit_sides(glb_scene *s, const gradin_model *m, int floor) {
    gradin_polygon p = m->floor[floor].polygon;
    slope_plane own = plane_of_floor(m, floor);
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        slope_plane other = beside(m, floor, (gradin_vec2){0.5 * (a.x + b.x), 0.5 * (a.y + b.y)});
        double a_m = slope_z_m(own, a), b_m = slope_z_m(own, b);
        double a_top_m = fmax(a_m, slope_z_m(other, a)), b_top_m = fmax(b_m, slope_z_m(other, b));
        gradin_vec3 at_a = {a.x, a.y, a_m}, at_b_top = {b.x, b.y, b_top_m};
        if (b_top_m > b_m) solids_triangle(&s->all, at_a, (gradin_vec3){b.x, b.y, b_m}, at_b_top);
        if (a_top_m > a_m)
            solids_triangle(&s->all, at_a, at_b_top, (gradin_vec3){a.x, a.y, a_top_m});
    }
}

/* "W1 post", where a hoist is called "W1 hoist". */
static bool is_tower_part(const gradin_model *m, const char *name) {
    for (int i = 0; m->machinery && i < m->machinery->n_machine; i++) {
        const gradin_machine *hoist = &m->machinery->machine[i];
        if (hoist->kind != GRADIN_MACHINE_HOIST) continue;
        size_t length = strlen(hoist->name) - strlen("hoist");
        if (strncmp(hoist->name, name, length) == 0) return true;
    }
    return false;
}

static bool is_mesh(const gradin_model *m, const char *name) {
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].n_triangle > 0 && strcmp(m->solid[i].name, name) == 0) return true;
    return false;
}

/* Of triangles, as meshes are; a block's or a solid's name may be that of a part of the floor. */
static bool is_floor(const gradin_model *m, const gradin_occluder *o) {
    const char *name = m->occluder_name[o->name];
    return o->shape.kind == GRADIN_SHAPE_TRIANGLE && floor_of(m, name) >= 0 && !is_mesh(m, name);
}

static glb_group group_of(const gradin_model *m, const gradin_occluder *o) {
    const char *name = m->occluder_name[o->name];
    if (o->cause == GRADIN_CAUSE_RAIL) return GLB_RAILS;
    if (o->cause == GRADIN_CAUSE_ARCH) return GLB_ARCH;
    if (is_floor(m, o)) return GLB_ROOM;
    for (int i = 0; i < m->n_section; i++)
        if (strcmp(m->section[i].name, name) == 0) return GLB_LIFTS;
    for (int i = 0; i < m->n_solid; i++)
        if (strcmp(m->solid[i].name, name) == 0)
            return m->solid[i].is_of_tower ? GLB_TOWERS : GLB_STRUCTURE;
    return is_tower_part(m, name) ? GLB_TOWERS : GLB_STRUCTURE;
}

static void add_occluders(glb_scene *s, const gradin_model *m) {
    static const glb_paint *const paint[N_GLB_GROUP] = {
        [GLB_ROOM] = &floor_paint,          [GLB_LIFTS] = &lift_paint, [GLB_TOWERS] = &tower_paint,
        [GLB_STRUCTURE] = &structure_paint, [GLB_ARCH] = &arch_paint,  [GLB_RAILS] = &rail_paint};
    const gradin_scene *scene = &m->scene;
    for (int i = 0, end; i < scene->n_occluder; i = end) {
        const gradin_occluder *o = &scene->occluder[i];
        int first = s->all.n;
        for (end = i; end < scene->n_occluder && scene->occluder[end].name == o->name &&
                      scene->occluder[end].cause == o->cause;
             end++)
            if (o->cause != GRADIN_CAUSE_HEAD) solids_shape(&s->all, &scene->occluder[end].shape);
        if (o->cause == GRADIN_CAUSE_HEAD) continue;
        const char *name = m->occluder_name[o->name];
        glb_group group = group_of(m, o);
        if (group == GLB_ROOM) add_pit_sides(s, m, floor_of(m, name));
        finish(s, first, group, name, *paint[group]);
    }
}

static void add_elements(glb_scene *s, const gradin_model *m) {
    for (int i = 0; i < m->n_element; i++) {
        const gradin_element *e = &m->element[i];
        bool is_door = e->kind == GRADIN_ELEMENT_DOOR;
        if (e->kind != GRADIN_ELEMENT_PANE && !is_door) continue;
        double in_m = e->height_m * sin(gradin_rad(e->tilt_deg));
        double up_m = e->height_m * cos(gradin_rad(e->tilt_deg));
        const gradin_vec3 out = {e->outward.x, e->outward.y, 0.0},
                          along = {e->along.x, e->along.y, 0.0};
        gradin_vec3 low = gradin_add(e->corner_m, gradin_scale(out, -inward_m));
        gradin_vec3 rise = {-in_m * out.x, -in_m * out.y, up_m};
        gradin_vec3 wide = gradin_scale(along, e->width_m);
        const gradin_vec3 corner[4] = {low, gradin_add(low, wide),
                                       gradin_add(gradin_add(low, wide), rise),
                                       gradin_add(low, rise)};
        int first = s->all.n;
        solids_quad(&s->all, corner);
        finish(s, first, is_door ? GLB_DOORS : GLB_GLAZING, e->name,
               is_door ? door_paint : glass_paint);
    }
}

static slope_plane plane_of(const gradin_focus *f) {
    return slope_rising(f->polygon.corner_m, f->polygon.n_corner, f->z_m + above_m, f->slope,
                        f->uphill_deg);
}

static void add_focus(glb_scene *s, const gradin_focus *f) {
    int first = s->all.n;
    if (f->kind == GRADIN_FOCUS_FLOOR)
        solids_cover(&s->all, f->polygon, NULL, 0, plane_of(f), true);
    for (int i = 0; f->kind == GRADIN_FOCUS_UPRIGHT && i + 1 < f->n_line; i++) {
        gradin_vec2 a = f->line_m[i], b = f->line_m[i + 1];
        const gradin_vec3 corner[4] = {{a.x, a.y, f->bottom_m},
                                       {b.x, b.y, f->bottom_m},
                                       {b.x, b.y, f->top_m},
                                       {a.x, a.y, f->top_m}};
        solids_quad(&s->all, corner);
    }
    if (f->kind == GRADIN_FOCUS_POINT)
        solids_block(&s->all,
                     (gradin_vec3){f->point_m.x - mark_m, f->point_m.y - mark_m, f->z_m - mark_m},
                     (gradin_vec3){f->point_m.x + mark_m, f->point_m.y + mark_m, f->z_m + mark_m});
    finish(s, first, GLB_FOCUS, f->name, focus_paint);
}

/* Of one size and kind; it faces north, its floor's middle at the origin. */
static int chair(glb_scene *s, gradin_seat_kind kind, double width_m, double depth_m) {
    double half_m = 0.5 * width_m - 0.03, far_m = fmin(0.25, 0.4 * depth_m);
    int first = s->all.n;
    if (kind == GRADIN_SEAT_WHEELCHAIR)
        solids_block(&s->all, (gradin_vec3){-half_m, -0.4 * depth_m, 0.0},
                     (gradin_vec3){half_m, 0.4 * depth_m, 0.03});
    else {
        solids_block(&s->all, (gradin_vec3){-half_m, -far_m, 0.38},
                     (gradin_vec3){half_m, far_m, 0.44});
        solids_block(&s->all, (gradin_vec3){-half_m, -far_m - 0.06, 0.38},
                     (gradin_vec3){half_m, -far_m, 0.85});
        solids_block(&s->all, (gradin_vec3){-0.05, -0.05, 0.0}, (gradin_vec3){0.05, 0.05, 0.38});
    }
    return glb_add_form(s, first);
}

typedef struct size_of_chair {
    double width_m, depth_m;
    bool is_place;
    int form;
} size_of_chair;

enum { MOST_SIZES = 256 };

/* Chairs of one size share their triangles. */
static int form_of(glb_scene *s, size_of_chair *size, int *n, const gradin_seats *seats, int i) {
    size_of_chair mine = {seats->width_m[i], seats->depth_m[i],
                          seats->kind[i] == GRADIN_SEAT_WHEELCHAIR, -1};
    for (int k = 0; k < *n; k++)
        if (size[k].width_m == mine.width_m && size[k].depth_m == mine.depth_m &&
            size[k].is_place == mine.is_place)
            return size[k].form;
    mine.form = chair(s, seats->kind[i], mine.width_m, mine.depth_m);
    if (*n < MOST_SIZES) size[(*n)++] = mine;
    return mine.form;
}

static void add_seats(glb_scene *s, const quantity *q, const gradin_assessment *a) {
    const gradin_seats *seats = &a->model->seats;
    size_of_chair size[MOST_SIZES];
    int n_size = 0;
    for (int i = 0; i < seats->n_seat && !s->failed; i++) {
        char shown[16];
        glb_paint paint = {.alpha = 1.0};
        quantity_seat(q, i, shown, &paint.ink);
        const char *block = glb_quoted(s->arena, a->model->block_name[seats->block[i]]);
        const char *extras = gradin_arena_print(
            s->arena, "\"block\":%s,\"kind\":\"%s\",\"rating\":\"%s\",\"shown\":\"%s\"",
            block ? block : "\"\"", gradin_seat_kind_name(seats->kind[i]),
            gradin_rating_name(a->sight.rating[i]), shown);
        if (!block || !extras) s->failed = true;
        glb_add_node(s, (glb_node){.name = seats->id[i],
                                   .extras = extras,
                                   .group = GLB_SEATS,
                                   .form = form_of(s, size, &n_size, seats, i),
                                   .paint = glb_find_paint(s, paint),
                                   .is_placed = true,
                                   .at_m = seats->floor_m[i],
                                   .facing_deg = seats->facing_deg[i]});
    }
}

void glb_add_hall(glb_scene *s, const quantity *q, const gradin_assessment *a) {
    const gradin_model *m = a->model;
    add_floor(s, m);
    add_walls(s, m);
    add_occluders(s, m);
    add_elements(s, m);
    for (int i = 0; i < m->n_focus; i++) add_focus(s, &m->focus[i]);
    add_seats(s, q, a);
}
