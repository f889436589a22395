/* C-value of a seat against the real persons ahead of it.
 *
 * Plane of view: vertical, through the eye and the middle of the floor that is looked at; point of
 * C: where that plane first meets the C-line (c_line.c). Weights and the order of the areas have no
 * part in it.
 *
 * Whose head (reference/whose-head has the figure): somebody counts who is ahead along the seat's
 * own facing by half a row at least and not in its own row; of the same bank, so turned by no more
 * than BANK_TURN_DEG against it; on the ray's own level, which is above their floor (people on a
 * gallery overhead are no row in front) and not more than LEVEL_M above their eyes (nor are people
 * a storey below); nearer than the point of C; and whose seat reaches into the plane. The row in
 * front is that of the nearest of them: all within half its depth along the facing, so that a
 * slanting view finds the row as it stands. It is of the same bank when no more than BANK_GAP_M
 * lies free between both places and their floors differ by BANK_STEP_M at most: an aisle may lie
 * between, a gallery's edge may not. A row over whose crown the ray passes by OVER_CROWN_M or more
 * is passed over for the next. The row two ahead begins behind the row in front, by no more than
 * TWO_AHEAD row depths. All of these are conventions of this project; common practice, no source.
 *
 * A wheelchair place has a second C, over the eye of a person who stands up in the row in front. A
 * head stands in the plane when its middle is within half a head's breadth of it. C by c_value.c
 * with D and R at the front person's eye, lengths along the plane. */
#include "sightline/c_value/c_seat.h"

#define OWN_ROW 0.5 /* row depths */
#define BANK_TURN_DEG 60.0
#define BANK_GAP_M 2.5
#define BANK_STEP_M 1.0
#define LEVEL_M 1.0
#define OVER_CROWN_M 0.3
#define TWO_AHEAD 2.5
#define EQUAL_M 1e-9
#define BESIDE 1.5 /* seat widths off the plane: heads that bound the window are within */

sight_plane gradin_sight_plane(const gradin_model *model, const sight_focus *focus,
                               gradin_vec3 eye_m, double facing_deg) {
    gradin_vec2 eye = {eye_m.x, eye_m.y};
    double dx = focus->floor_middle_m.x - eye.x, dy = focus->floor_middle_m.y - eye.y;
    double length_m = hypot(dx, dy);
    sight_plane plane = {.unit = gradin_bearing_unit(facing_deg)};
    gradin_c_point point;
    if (length_m >= EQUAL_M) plane.unit = (gradin_vec2){dx / length_m, dy / length_m};
    if (!gradin_c_line_meet(model, eye, plane.unit, &point)) {
        bool is_there = gradin_c_line_nearest(model, eye, &point);
        if (is_there && point.ahead_m >= EQUAL_M)
            plane.unit = (gradin_vec2){(point.at_m.x - eye.x) / point.ahead_m,
                                       (point.at_m.y - eye.y) / point.ahead_m};
    }
    plane.focus_ahead_m = point.ahead_m;
    plane.focus_z_m = point.at_m.z;
    plane.area = point.area;
    return plane;
}

static bool comes_first(const sight_person *a, const sight_person *b) {
    if (fabs(a->ahead_m - b->ahead_m) > EQUAL_M) return a->ahead_m < b->ahead_m;
    double a_aside = fabs(a->aside_m), b_aside = fabs(b->aside_m);
    if (fabs(a_aside - b_aside) > EQUAL_M) return a_aside < b_aside;
    return a->seat < b->seat;
}

double gradin_sight_ray_m(const sight_plane *plane, gradin_vec3 eye_m, double ahead_m) {
    return eye_m.z + (plane->focus_z_m - eye_m.z) * (ahead_m / plane->focus_ahead_m);
}

/* Ahead along the seat's own facing, not in its own row, of a row that is turned much like it. */
static bool is_of_row_ahead(const gradin_seats *seats, int seat, int other) {
    if (seats->block[other] == seats->block[seat] && seats->row[other] == seats->row[seat])
        return false;
    if (gradin_sight_forward_m(seats, seat, other) < OWN_ROW * seats->depth_m[seat]) return false;
    return gradin_bearing_gap_deg(seats->facing_deg[seat], seats->facing_deg[other]) <=
           BANK_TURN_DEG + EQUAL_M;
}

static int find_persons(const gradin_seats *seats, const sight_plane *plane, int seat,
                        sight_person *person) {
    gradin_vec3 eye = seats->eye_m[seat];
    int n = 0;
    for (int j = 0; j < seats->n_seat; j++) {
        double dx = seats->eye_m[j].x - eye.x, dy = seats->eye_m[j].y - eye.y;
        double ahead = dx * plane->unit.x + dy * plane->unit.y;
        double aside = dx * plane->unit.y - dy * plane->unit.x, width = seats->width_m[j];
        if (j == seat || ahead <= 0.0 || ahead >= plane->focus_ahead_m) continue;
        if (fabs(aside) > BESIDE * width || !is_of_row_ahead(seats, seat, j)) continue;
        double ray_m = gradin_sight_ray_m(plane, eye, ahead);
        if (ray_m < seats->floor_m[j].z || ray_m > seats->eye_m[j].z + LEVEL_M) continue;
        person[n++] = (sight_person){j, ahead, aside, gradin_sight_forward_m(seats, seat, j),
                                     fabs(aside) <= 0.5 * width + EQUAL_M};
    }
    return n;
}

/* The first person, from_m to to_m ahead along the facing, who reaches into the plane and sits at
 * most aside_m off it, or NULL. */
static const sight_person *first_person(const sight_person *person, int n, double from_m,
                                        double to_m, double aside_m) {
    const sight_person *first = NULL;
    for (int i = 0; i < n; i++) {
        const sight_person *p = &person[i];
        if (!p->reaches || p->forward_m < from_m || p->forward_m >= to_m ||
            fabs(p->aside_m) > aside_m)
            continue;
        if (!first || comes_first(p, first)) first = p;
    }
    return first;
}

typedef struct row_ahead {
    const sight_person *person; /* the one in the plane, else the nearest; NULL: no such row */
    double end_m;               /* where the row ends, along the facing of the seat asked */
    bool in_plane;
} row_ahead;

/* Does the row stand across more than an aisle, or a storey's part higher or lower? */
static bool is_of_other_bank(const gradin_seats *seats, int seat, const row_ahead *row) {
    int other = row->person->seat;
    double step_m = fabs(seats->floor_m[seat].z - seats->floor_m[other].z);
    return gradin_sight_free_m(seats, seat, other) > BANK_GAP_M + EQUAL_M ||
           step_m > BANK_STEP_M + EQUAL_M;
}

/* The row that begins in [from_m, to_m). */
static row_ahead find_row(const gradin_seats *seats, const sight_person *person, int n,
                          double from_m, double to_m, double half_head_m) {
    row_ahead row = {first_person(person, n, from_m, to_m, INFINITY), INFINITY, false};
    if (!row.person) return row;
    double at_m = row.person->forward_m;
    double half_m = fmax(0.5 * seats->depth_m[row.person->seat], EQUAL_M);
    row.end_m = at_m + half_m;
    const sight_person *in_plane =
        first_person(person, n, fmax(at_m - half_m, from_m), row.end_m, half_head_m + EQUAL_M);
    row.in_plane = in_plane != NULL;
    if (in_plane) row.person = in_plane;
    return row;
}

const sight_over SIGHT_NO_OVER = {NAN, NAN, NAN, NAN, NAN};

sight_over gradin_sight_over(const sight_plane *plane, gradin_vec3 eye_m, double ahead_m,
                             double top_m) {
    sight_over over = {.d_m = plane->focus_ahead_m - ahead_m,
                       .n_m = eye_m.z - top_m,
                       .r_m = top_m - plane->focus_z_m,
                       .t_m = ahead_m};
    over.c_m = gradin_c_value_m(over.d_m, over.r_m, over.n_m, over.t_m);
    return over;
}

static sight_over over_person(const gradin_seats *seats, const sight_plane *plane, int seat,
                              const sight_person *person) {
    return gradin_sight_over(plane, seats->eye_m[seat], person->ahead_m,
                             seats->eye_m[person->seat].z);
}

static bool is_wheelchair(const gradin_seats *seats, int seat) {
    return seats->kind && seats->kind[seat] == GRADIN_SEAT_WHEELCHAIR;
}

/* Nobody stands up in a wheelchair place: those persons are left out. */
static sight_over over_standing(const gradin_model *model, const sight_plane *plane, int seat,
                                sight_person *person, int n, double half_head_m) {
    const gradin_seats *seats = &model->seats;
    int n_able = 0;
    for (int i = 0; i < n; i++)
        if (!is_wheelchair(seats, person[i].seat)) person[n_able++] = person[i];
    row_ahead row = find_row(seats, person, n_able, 0.0, INFINITY, half_head_m);
    if (!row.person || is_of_other_bank(seats, seat, &row)) return SIGHT_NO_OVER;
    return gradin_sight_over(plane, seats->eye_m[seat], row.person->ahead_m,
                             seats->floor_m[row.person->seat].z +
                                 model->audience.standing_eye_height_m);
}

/* The first row whose crowns are near the view: one that sits low, as in a pit, hides nothing and
 * does not stand for a higher one beyond. */
static row_ahead find_front(const gradin_model *model, const sight_plane *plane, int seat,
                            const sight_person *person, int n, double half_head_m) {
    const gradin_seats *seats = &model->seats;
    double most_m = model->audience.crown_m + OVER_CROWN_M;
    row_ahead row = find_row(seats, person, n, 0.0, INFINITY, half_head_m);
    while (row.person && over_person(seats, plane, seat, row.person).c_m >= most_m)
        row = find_row(seats, person, n, row.end_m, INFINITY, half_head_m);
    if (row.person && is_of_other_bank(seats, seat, &row)) row.person = NULL;
    return row;
}

static void choose_case(const gradin_model *model, const sight_plane *plane, int seat,
                        const sight_person *person, int n, sight_c *c) {
    const gradin_seats *seats = &model->seats;
    double half_head_m = 0.5 * model->audience.head_breadth_m;
    row_ahead front = find_front(model, plane, seat, person, n, half_head_m);
    if (!front.person) return;
    c->over = over_person(seats, plane, seat, front.person);
    c->c_row_m = c->over.c_m;
    c->front_seat = front.person->seat;
    c->c_case = !front.in_plane ? GRADIN_C_BETWEEN_HEADS
                : gradin_sight_across_aisle(model, plane, seat, front.person)
                    ? GRADIN_C_ACROSS_AISLE
                    : GRADIN_C_ROW_IN_FRONT;
    c->window_deg = gradin_sight_window_deg(seats, half_head_m, seat, front.person, person, n);
    double reach_m = TWO_AHEAD * seats->depth_m[front.person->seat];
    row_ahead behind = find_row(seats, person, n, front.end_m, front.end_m + reach_m, half_head_m);
    if (!behind.person) return;
    sight_over two = over_person(seats, plane, seat, behind.person);
    c->c_two_m = two.c_m;
    if (front.in_plane || !behind.in_plane) return;
    c->over = two;
    c->c_case = GRADIN_C_TWO_AHEAD;
    c->front_seat = behind.person->seat;
}

sight_c gradin_sight_c(const gradin_model *model, const sight_plane *plane, int seat,
                       sight_person *person) {
    sight_c c = {.over = SIGHT_NO_OVER,
                 .c_row_m = NAN,
                 .c_two_m = NAN,
                 .window_deg = NAN,
                 .front_seat = -1,
                 .standing = SIGHT_NO_OVER};
    if (isnan(plane->focus_z_m)) return c; /* nothing to measure C to */
    int n = find_persons(&model->seats, plane, seat, person);
    choose_case(model, plane, seat, person, n, &c);
    if (is_wheelchair(&model->seats, seat))
        c.standing =
            over_standing(model, plane, seat, person, n, 0.5 * model->audience.head_breadth_m);
    return c;
}
