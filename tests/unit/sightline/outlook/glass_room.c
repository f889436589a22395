/* A room with glass, built by hand. */
#include "unit/sightline/outlook/glass_room.h"

#include <criterion/criterion.h>
#include <string.h>

void room_start(glass_room *r) {
    memset(r, 0, sizeof *r);
    hall_start(&r->hall);
    gradin_model *m = &r->hall.model;
    const gradin_vec2 corner_m[4] = {{0.0, 0.0}, {10.0, 0.0}, {10.0, 8.0}, {0.0, 8.0}};
    memcpy(r->corner_m, corner_m, sizeof corner_m);
    m->footprint = (gradin_polygon){r->corner_m, 4};
    m->ceiling_m = 4.0;
    m->audience = gradin_audience_defaults();
    m->audience.standing_eye_height_m = 1.57;
    m->element = r->element;
    m->shade = &r->shade;
    m->n_shade = 1;
    m->buildup = &r->buildup;
    m->n_buildup = 1;
    r->shade.name = r->buildup.name = "made";
    r->outside.point = r->point;
    r->arena = gradin_arena_create();
}

void room_end(glass_room *r) {
    gradin_arena_destroy(r->arena);
}

gradin_element *room_pane(glass_room *r, double x_m, double sill_m, double width_m,
                          double height_m) {
    gradin_element *made = &r->element[r->hall.model.n_element++];
    *made = (gradin_element){.name = "pane",
                             .kind = GRADIN_ELEMENT_PANE,
                             .corner_m = {x_m, 0.0, sill_m},
                             .along = {1.0, 0.0},
                             .outward = {0.0, -1.0},
                             .width_m = width_m,
                             .height_m = height_m};
    return made;
}

void room_point(glass_room *r, double x_m, double y_m, double z_m) {
    static const char *const name[ROOM_POINTS] = {"first", "second", "third", "fourth"};
    int i = r->outside.n_point++;
    r->point[i] = (gradin_outside_point){.name = name[i], .eye_m = {x_m, y_m, z_m}};
}

typedef struct change {
    double xx, xy, yx, yy;
} change;

static void change_2(const change *c, gradin_vec2 *p) {
    *p = (gradin_vec2){c->xx * p->x + c->xy * p->y, c->yx * p->x + c->yy * p->y};
}

static void change_3(const change *c, gradin_vec3 *p) {
    *p = (gradin_vec3){c->xx * p->x + c->xy * p->y, c->yx * p->x + c->yy * p->y, p->z};
}

static void change_seat(const change *c, hall *h, int i) {
    gradin_vec2 facing = gradin_bearing_unit(h->facing_deg[i]);
    change_2(c, &facing);
    h->facing_deg[i] = gradin_bearing_deg(facing.x, facing.y);
    change_3(c, &h->eye_m[i]);
    change_3(c, &h->floor_m[i]);
}

/* Before hall_heads(): bodies are not moved. */
static void change_all(glass_room *r, const change *c) {
    for (int i = 0; i < 4; i++) change_2(c, &r->corner_m[i]);
    for (int i = 0; i < r->hall.model.n_element; i++) {
        change_3(c, &r->element[i].corner_m);
        change_2(c, &r->element[i].along);
        change_2(c, &r->element[i].outward);
    }
    for (int i = 0; i < r->hall.model.seats.n_seat; i++) change_seat(c, &r->hall, i);
    for (int a = 0; a < r->hall.model.n_focus; a++)
        for (int i = 0; i < 4; i++) change_2(c, &r->hall.area_corner[a][i]);
    for (int i = 0; i < r->outside.n_point; i++) change_3(c, &r->point[i].eye_m);
}

void room_turn(glass_room *r, double turn_deg) {
    double c = cos(gradin_rad(turn_deg)), s = sin(gradin_rad(turn_deg));
    change_all(r, &(change){c, s, -s, c});
}

void room_mirror(glass_room *r) {
    change_all(r, &(change){-1.0, 0.0, 0.0, 1.0});
}

gradin_outlook room_look(glass_room *r, bool are_shades_up) {
    gradin_outlook o;
    gradin_error error = {0};
    gradin_status status =
        gradin_outlook_compute(r->arena, &r->hall.model, &r->outside,
                               &(gradin_outlook_options){are_shades_up}, &o, &error);
    cr_assert_eq(status, GRADIN_OK, "%s", error.diagnostic[0].text);
    return o;
}
