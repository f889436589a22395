/* Names of blocks and decks, and the number of each row beside its first seat: what finds a seat
 * that a text names. */
#include "render/plan/plan.h"

#include <stdio.h>

#define BLOCK_REACH 90.0  /* page units around a block in which its name may stand, */
#define BLOCK_REACH_M 3.2 /* and no further than this in the hall */
#define BLOCK_SIZE 16.0   /* letters of a block's name, at most */
#define BLOCK_SIZE_M 0.8  /* and as high as this in the hall, but not too small to read */
#define ROW_SIZE 12.5
#define ROW_GAP 3.0 /* page units from the first seat's edge to its row's number */

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

static void name_block(const plan *p, int block) {
    span s = span_of(p, block);
    if (s.n == 0) return;
    double size = fmax(fmin(BLOCK_SIZE, BLOCK_SIZE_M * p->v->unit_per_m), LEAST_TEXT);
    int middle = s.first + (s.last - s.first) / 2;
    double back = 0.5 * p->model->seats.depth_m[middle] * p->v->unit_per_m + 0.7 * size;
    double reach = fmin(BLOCK_REACH, BLOCK_REACH_M * p->v->unit_per_m);
    gradin_box2 within = {s.box.x_min_m - reach, s.box.y_min_m - reach, s.box.x_max_m + reach,
                          s.box.y_max_m + reach};
    text_style style = {
        .size = size, .is_bold = true, .ink = COLOUR_INK, .halo = 3.0, .halo_ink = COLOUR_WHITE};
    char text[64];
    snprintf(text, sizeof text, "%.60s", p->model->block_name[block]);
    labels_put(p->grid, p->page, style, within, beside(p, middle, 0.0, back), true, text);
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
    double slack = half + 7.0;
    gradin_box2 within = {wanted.x - slack, wanted.y - slack, wanted.x + slack, wanted.y + slack};
    labels_put(p->grid, p->page, style, within, wanted, false, text);
}

static void name_rows(const plan *p) {
    const gradin_seats *s = &p->model->seats;
    for (int i = 0; i < s->n_seat; i++) {
        bool is_start = i == 0 || s->block[i - 1] != s->block[i] || s->row[i - 1] != s->row[i];
        if (!is_start || s->sheet[i] != p->sheet) continue;
        bool has_next =
            i + 1 < s->n_seat && s->block[i + 1] == s->block[i] && s->row[i + 1] == s->row[i];
        name_row(p, i, has_next ? i + 1 : i);
    }
}

void plan_draw_seat_names(const plan *p) {
    for (int i = 0; i < p->model->n_block; i++) name_block(p, i);
    name_rows(p);
}
