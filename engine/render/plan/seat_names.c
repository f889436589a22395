/* Names of blocks and decks, and the number of each row beside its first seat: what finds a seat
 * that a text names. */
#include "render/plan/plan.h"

#include <stdio.h>

#define BLOCK_REACH 90.0 /* page units around a block in which its name may stand, */
#define BLOCK_REACH_M                                                                              \
    3.2                  /* and no further than this in the hall; beside it, half of it is enough */
#define BLOCK_SIZE 16.0  /* letters of a block's name, at most */
#define BLOCK_SIZE_M 0.8 /* and as high as this in the hall, but not too small to read */
#define ROW_SIZE 12.5
#define ROW_CLEAR 1.5 /* page units from a number to a line, at least */
#define ROW_GAP 3.0   /* page units from the first seat's edge to its row's number */

static gradin_vec2 seat_point(const plan *p, int seat) {
    const gradin_seats *s = &p->model->seats;
    return view_point(p->v, s->floor_m[seat].x, s->floor_m[seat].y);
}

/* A page vector: so far to the right of who sits there, and so far backwards. */
static gradin_vec2 beside(const plan *p, int seat, double right, double back) {
    gradin_vec2 at = seat_point(p, seat);
    gradin_vec2 ahead = gradin_bearing_unit(p->model->seats.facing_deg[seat]);
    return (gradin_vec2){at.x + right * ahead.y - back * ahead.x,
                         at.y + right * ahead.x + back * ahead.y};
}

/* The seats of a block on this sheet: their page box, and the middle one of the last row. */
typedef struct span {
    gradin_box2 box;
    int n, last_row, first, last; /* first and last seat of the last row */
} span;

static span span_of(const plan *p, int block) {
    const gradin_seats *s = &p->model->seats;
    span found = {{INFINITY, INFINITY, -INFINITY, -INFINITY}, 0, 0, -1, -1};
    for (int i = 0; i < s->n_seat; i++) {
        if (s->block[i] != block || s->sheet[i] != p->sheet) continue;
        gradin_vec2 at = seat_point(p, i);
        found.box.x_min_m = fmin(found.box.x_min_m, at.x);
        found.box.x_max_m = fmax(found.box.x_max_m, at.x);
        found.box.y_min_m = fmin(found.box.y_min_m, at.y);
        found.box.y_max_m = fmax(found.box.y_max_m, at.y);
        if (s->row[i] > found.last_row) {
            found.last_row = s->row[i];
            found.first = i;
        }
        if (s->row[i] == found.last_row) found.last = i;
        found.n++;
    }
    return found;
}

static bool holds(gradin_box2 box, gradin_vec2 at) {
    return at.x >= box.x_min_m && at.x <= box.x_max_m && at.y >= box.y_min_m && at.y <= box.y_max_m;
}

/* A block's name within the outline of another deck would name that. True of a block on a deck. */
static bool keep_off_decks(const plan *p, gradin_vec2 seat) {
    bool is_on_deck = false;
    for (int i = 0; i < p->model->n_solid; i++) {
        const gradin_solid *solid = &p->model->solid[i];
        if (solid->kind != GRADIN_SOLID_SLAB || !plan_on_sheet(solid->sheet, p->sheet)) continue;
        gradin_box2 box = plan_box(p, solid->polygon);
        if (holds(box, seat))
            is_on_deck = true;
        else
            labels_keep_off(p->grid, box);
    }
    return is_on_deck;
}

static void name_block(const plan *p, int block) {
    span s = span_of(p, block);
    if (s.n == 0) return;
    double size = fmax(fmin(BLOCK_SIZE, BLOCK_SIZE_M * p->v->unit_per_m), LEAST_TEXT);
    int middle = s.first + (s.last - s.first) / 2;
    double back = 0.5 * p->model->seats.depth_m[middle] * p->v->unit_per_m + 0.7 * size;
    double reach = fmin(BLOCK_REACH, BLOCK_REACH_M * p->v->unit_per_m);
    text_style style = {
        .size = size, .is_bold = true, .ink = COLOUR_INK, .halo = 3.0, .halo_ink = COLOUR_WHITE};
    char text[64];
    snprintf(text, sizeof text, "%.60s", p->model->block_name[block]);
    double aside = fmax(reach, 0.5 * reach + canvas_text_width(p->page, style, text));
    gradin_box2 within = {s.box.x_min_m - aside, s.box.y_min_m - reach, s.box.x_max_m + aside,
                          s.box.y_max_m + reach};
    gradin_vec2 wanted = beside(p, middle, 0.0, back);
    bool is_put = keep_off_decks(p, seat_point(p, middle)) &&
                  labels_put_off_lines(p->grid, p->page, style, within, wanted, text);
    if (!is_put) is_put = labels_put(p->grid, p->page, style, within, wanted, true, text);
    labels_release(p->grid);
    if (!is_put) labels_put(p->grid, p->page, style, within, wanted, true, text);
}

/* How far the ray from a seat along a unit vector is from the side a-b; INFINITY: it misses it. */
static double ray_to(gradin_vec2 from, gradin_vec2 along, gradin_vec2 a, gradin_vec2 b) {
    gradin_vec2 side = {b.x - a.x, b.y - a.y}, to = {a.x - from.x, a.y - from.y};
    double across = along.x * side.y - along.y * side.x;
    double distance = (to.x * side.y - to.y * side.x) / across;
    double share = (to.x * along.y - to.y * along.x) / across;
    return distance > 0.0 && share >= 0.0 && share <= 1.0 ? distance : INFINITY;
}

/* To the outline of the nearest deck. */
static double to_deck(const plan *p, gradin_vec2 from, gradin_vec2 along) {
    double nearest = INFINITY;
    for (int i = 0; i < p->model->n_solid; i++) {
        const gradin_solid *solid = &p->model->solid[i];
        gradin_polygon outline = solid->polygon;
        if (solid->kind != GRADIN_SOLID_SLAB || !plan_on_sheet(solid->sheet, p->sheet)) continue;
        for (int k = 0; k < outline.n_corner; k++) {
            gradin_vec2 a = outline.corner_m[k], b = outline.corner_m[(k + 1) % outline.n_corner];
            nearest = fmin(nearest, ray_to(from, along, view_point(p->v, a.x, a.y),
                                           view_point(p->v, b.x, b.y)));
        }
    }
    return nearest;
}

/* From the seat's edge to the middle of a number that reaches `half` to both sides, and `room` to
 * the dashed line of a deck: short of it, between, or beyond. */
static double number_at(double half, double room) {
    if (ROW_GAP + 2.0 * half + ROW_CLEAR <= room) return ROW_GAP + half;
    if (2.0 * (half + ROW_CLEAR) <= room) return 0.5 * room;
    return room + ROW_CLEAR + half;
}

/* On a deck, close to whose edge the seats are, exactly; false where there is no such line near. */
static bool put_on_deck(const plan *p, text_style style, int seat, gradin_vec2 along,
                        const char *text) {
    double edge = 0.5 * p->model->seats.width_m[seat] * p->v->unit_per_m;
    double half_w = 0.5 * canvas_text_width(p->page, style, text);
    double half = fabs(along.x) * half_w + fabs(along.y) * 0.36 * style.size;
    gradin_vec2 from = seat_point(p, seat);
    double room = to_deck(p, from, along) - edge;
    if (!(room > 0.0 && room < 4.0 * style.size)) return false;
    double far = edge + number_at(half, room);
    gradin_vec2 spot = {from.x + far * along.x, from.y + far * along.y};
    return labels_put_at(p->grid, p->page, style, spot, text);
}

/* Beside the row's first seat, away from its second. */
static void name_row(const plan *p, int first, int second) {
    const gradin_seats *s = &p->model->seats;
    char text[64];
    if (s->row_label && s->row_label[first])
        snprintf(text, sizeof text, "%.12s", s->row_label[first]);
    else
        snprintf(text, sizeof text, "%d", s->row[first]);
    text_style style = {
        .size = ROW_SIZE, .ink = COLOUR_QUIET, .halo = 3.0, .halo_ink = COLOUR_WHITE};
    double half = 0.5 * canvas_text_width(p->page, style, text) + 2.0;
    double away = 0.5 * s->width_m[first] * p->v->unit_per_m + ROW_GAP + fmax(half, 0.5 * ROW_SIZE);
    gradin_vec2 here = seat_point(p, first), next = seat_point(p, second);
    gradin_vec2 right = beside(p, first, 1.0, 0.0);
    bool is_second_right =
        (next.x - here.x) * (right.x - here.x) + (next.y - here.y) * (right.y - here.y) >= 0.0;
    gradin_vec2 wanted = beside(p, first, is_second_right ? -away : away, 0.0);
    gradin_vec2 along = {wanted.x - here.x, wanted.y - here.y};
    double length = hypot(along.x, along.y);
    if (put_on_deck(p, style, first, (gradin_vec2){along.x / length, along.y / length}, text))
        return;
    double slack = half + 7.0;
    gradin_box2 within = {wanted.x - slack, wanted.y - slack, wanted.x + slack, wanted.y + slack};
    if (labels_put(p->grid, p->page, style, within, wanted, false, text)) return;
    style.size = LEAST_TEXT;
    double close = 0.5 * s->width_m[first] * p->v->unit_per_m + ROW_CLEAR +
                   0.5 * canvas_text_width(p->page, style, text);
    labels_put_at(p->grid, p->page, style, beside(p, first, is_second_right ? -close : close, 0.0),
                  text);
}

/* Where rows lie closer than their numbers are high, every second, fifth ... has one. */
static bool has_number(const plan *p, int first) {
    static const int steps[] = {1, 2, 5, 10, 20, 50};
    double pitch = p->model->seats.depth_m[first] * p->v->unit_per_m;
    int k = 0, row = p->model->seats.row[first];
    while (k < 5 && steps[k] * pitch < ROW_SIZE + 1.0) k++;
    return steps[k] <= 2 ? (row - 1) % steps[k] == 0 : row == 1 || row % steps[k] == 0;
}

static void name_rows(const plan *p) {
    const gradin_seats *s = &p->model->seats;
    for (int i = 0; i < s->n_seat; i++) {
        bool is_start = i == 0 || s->block[i - 1] != s->block[i] || s->row[i - 1] != s->row[i];
        if (!is_start || s->sheet[i] != p->sheet || !has_number(p, i)) continue;
        bool has_next =
            i + 1 < s->n_seat && s->block[i + 1] == s->block[i] && s->row[i + 1] == s->row[i];
        name_row(p, i, has_next ? i + 1 : i);
    }
}

void plan_draw_seat_names(const plan *p) {
    for (int i = 0; i < p->model->n_block; i++) name_block(p, i);
    name_rows(p);
}
