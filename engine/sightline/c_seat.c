/* C-value of a seat against the real persons ahead of it.
 *
 * Plane of view: vertical, through the eye and the centroid of the focus. Point of focus: where
 * that plane first meets the boundary of a focus area, at the height of the area; when it meets
 * none, the plane is turned to the nearest boundary point. Persons: everybody more than NECK_M
 * ahead and nearer than the point of focus whose seat reaches into the plane and who sit on the
 * ray's own level: it passes above their floor (people on a gallery overhead are no row in front)
 * and not more than LEVEL_M above their eyes (nor are people a storey below). The row in front
 * begins with the nearest of them and is half its row depth deep; the row two ahead begins behind
 * that. A head stands in the plane when its middle is within half a head's breadth of it. C by
 * c_value.c with D and R at the front person's eye, lengths along the plane. */
#include "sightline/c_seat.h"

#define NECK_M 0.3
#define LEVEL_M 1.0
#define EQUAL_M 1e-9

static gradin_vec2 unit_to(gradin_vec3 eye, double x, double y, double facing_deg) {
    double dx = x - eye.x, dy = y - eye.y, length = hypot(dx, dy);
    if (length < EQUAL_M) return gradin_bearing_unit(facing_deg);
    return (gradin_vec2){dx / length, dy / length};
}

static void turn_to_nearest(const sight_focus *focus, gradin_vec3 eye, double facing_deg,
                            sight_plane *plane) {
    for (int a = 0; a < focus->n_area; a++) {
        gradin_vec2 p =
            gradin_polygon_nearest_m(focus->area[a].polygon, (gradin_vec2){eye.x, eye.y}, NULL);
        double distance = hypot(p.x - eye.x, p.y - eye.y);
        if (!(distance < plane->focus_ahead_m)) continue;
        *plane = (sight_plane){unit_to(eye, p.x, p.y, facing_deg), distance, focus->area[a].z_m};
    }
}

sight_plane gradin_sight_plane(const sight_focus *focus, gradin_vec3 eye_m, double facing_deg) {
    sight_plane plane = {unit_to(eye_m, focus->centroid_m.x, focus->centroid_m.y, facing_deg),
                         INFINITY, 0.0};
    for (int a = 0; a < focus->n_area; a++) {
        double t;
        if (!gradin_polygon_ray_m(focus->area[a].polygon, (gradin_vec2){eye_m.x, eye_m.y},
                                  plane.unit, &t) ||
            !(t < plane.focus_ahead_m))
            continue;
        plane.focus_ahead_m = t;
        plane.focus_z_m = focus->area[a].z_m;
    }
    if (isinf(plane.focus_ahead_m)) turn_to_nearest(focus, eye_m, facing_deg, &plane);
    return plane;
}

static bool comes_first(const sight_person *a, const sight_person *b) {
    if (fabs(a->ahead_m - b->ahead_m) > EQUAL_M) return a->ahead_m < b->ahead_m;
    if (fabs(a->aside_m - b->aside_m) > EQUAL_M) return a->aside_m < b->aside_m;
    return a->seat < b->seat;
}

/* Height of the ray from the eye to the point of focus, ahead_m on. */
static double ray_z_m(const sight_plane *plane, gradin_vec3 eye, double ahead_m) {
    return eye.z + (plane->focus_z_m - eye.z) * (ahead_m / plane->focus_ahead_m);
}

static int find_persons(const gradin_seats *seats, const sight_plane *plane, int seat,
                        sight_person *person) {
    gradin_vec3 eye = seats->eye_m[seat];
    int n = 0;
    for (int j = 0; j < seats->n_seat; j++) {
        double dx = seats->eye_m[j].x - eye.x, dy = seats->eye_m[j].y - eye.y;
        double ahead = dx * plane->unit.x + dy * plane->unit.y;
        double aside = fabs(dx * plane->unit.y - dy * plane->unit.x);
        if (j == seat || ahead <= NECK_M || ahead >= plane->focus_ahead_m) continue;
        if (aside > 0.5 * seats->width_m[j] + EQUAL_M) continue;
        double ray_m = ray_z_m(plane, eye, ahead);
        if (ray_m < seats->floor_m[j].z || ray_m > seats->eye_m[j].z + LEVEL_M) continue;
        person[n++] = (sight_person){j, ahead, aside};
    }
    return n;
}

/* The first person in [from_m, to_m) who sits at most aside_m off the plane, or NULL. */
static const sight_person *first_person(const sight_person *person, int n, double from_m,
                                        double to_m, double aside_m) {
    const sight_person *first = NULL;
    for (int i = 0; i < n; i++) {
        const sight_person *p = &person[i];
        if (p->ahead_m < from_m || p->ahead_m >= to_m || p->aside_m > aside_m) continue;
        if (!first || comes_first(p, first)) first = p;
    }
    return first;
}

typedef struct row_ahead {
    const sight_person *person; /* the one in the plane, else the nearest; NULL: no such row */
    double end_m;               /* where the row ends */
    bool in_plane;
} row_ahead;

static row_ahead find_row(const gradin_seats *seats, const sight_person *person, int n,
                          double from_m, double half_head_m) {
    row_ahead row = {first_person(person, n, from_m, INFINITY, INFINITY), INFINITY, false};
    if (!row.person) return row;
    double start_m = row.person->ahead_m;
    row.end_m = start_m + fmax(0.5 * seats->depth_m[row.person->seat], EQUAL_M);
    const sight_person *in_plane =
        first_person(person, n, start_m, row.end_m, half_head_m + EQUAL_M);
    row.in_plane = in_plane != NULL;
    if (in_plane) row.person = in_plane;
    return row;
}

static void measure(const gradin_seats *seats, const sight_plane *plane, int seat,
                    const sight_person *person, sight_c *c) {
    double front_z = seats->eye_m[person->seat].z;
    c->front_seat = person->seat;
    c->t_m = person->ahead_m;
    c->d_m = plane->focus_ahead_m - person->ahead_m;
    c->n_m = seats->eye_m[seat].z - front_z;
    c->r_m = front_z - plane->focus_z_m;
    c->c_m = gradin_c_value_m(c->d_m, c->r_m, c->n_m, c->t_m);
}

static const sight_c NO_C = {GRADIN_C_NONE, NAN, NAN, NAN, NAN, NAN, NAN, NAN, -1};

sight_c gradin_sight_c(const gradin_model *model, const sight_focus *focus, int seat,
                       sight_person *person) {
    const gradin_seats *seats = &model->seats;
    sight_plane plane = gradin_sight_plane(focus, seats->eye_m[seat], seats->facing_deg[seat]);
    double half_head_m = 0.5 * model->audience.head_breadth_m;
    int n = find_persons(seats, &plane, seat, person);
    sight_c c = NO_C, two = NO_C;
    row_ahead front = find_row(seats, person, n, 0.0, half_head_m);
    if (!front.person) return c;
    measure(seats, &plane, seat, front.person, &c);
    c.c_row_m = c.c_m;
    c.c_case = front.in_plane ? GRADIN_C_ROW_IN_FRONT : GRADIN_C_BETWEEN_HEADS;
    row_ahead behind = find_row(seats, person, n, front.end_m, half_head_m);
    if (!behind.person) return c;
    measure(seats, &plane, seat, behind.person, &two);
    c.c_two_m = two.c_m;
    if (front.in_plane || !behind.in_plane) return c;
    two.c_case = GRADIN_C_TWO_AHEAD;
    two.c_row_m = c.c_row_m;
    two.c_two_m = two.c_m;
    return two;
}
