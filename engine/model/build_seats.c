/* Places become seats: ids, eyes, drawing sheets. */
#include "model/build.h"

/* ---- sheets
 * ---------------------------------------------------------------------------------------------- */

/* Decks are drawn on the lowest sheet on which none of their seats covers another's. Everything on
 * the floor and on lifts is on sheet 0. */
static bool covers(const builder *b, int deck_index, int sheet) {
    for (int i = 0; i < b->n_place; i++) {
        const place *p = &b->place[i];
        if (p->deck != deck_index) continue;
        gradin_vec2 p_corner_m[4], q_corner_m[4];
        place_corners(p, p->depth_m, p_corner_m);
        for (int k = 0; k < b->n_place; k++) {
            const place *q = &b->place[k];
            int other = q->deck < 0 ? 0 : q->deck < deck_index ? b->deck[q->deck].sheet : -1;
            if (other != sheet || hypot(p->at_m.x - q->at_m.x, p->at_m.y - q->at_m.y) > 5.0)
                continue;
            place_corners(q, q->depth_m, q_corner_m);
            if (gradin_polygon_overlap((gradin_polygon){p_corner_m, 4},
                                       (gradin_polygon){q_corner_m, 4}, 0.02))
                return true;
        }
    }
    return false;
}

static int assign_sheets(builder *b) {
    int n_sheet = 1;
    for (int i = 0; i < b->n_deck; i++) {
        deck *d = &b->deck[i];
        d->sheet = d->level > 0 && b->p->tower[d->tower].is_seated ? b->deck[i - 1].sheet : 0;
        while (covers(b, i, d->sheet)) d->sheet++;
        if (d->sheet + 1 > n_sheet) n_sheet = d->sheet + 1;
    }
    /* Decks without seats follow their level as far as there are sheets. */
    for (int i = 0; i < b->n_deck; i++)
        if (!b->p->tower[b->deck[i].tower].is_seated)
            b->deck[i].sheet = b->deck[i].level < n_sheet ? b->deck[i].level : n_sheet - 1;
    return n_sheet;
}

/* ---- seats
 * ------------------------------------------------------------------------------------------------
 */

static bool take_seats(reader *r, int n, gradin_seats *s) {
    s->n_seat = n;
    s->id = take(r, n, sizeof *s->id);
    s->block = take(r, n, sizeof *s->block);
    s->row = take(r, n, sizeof *s->row);
    s->number = take(r, n, sizeof *s->number);
    s->kind = take(r, n, sizeof *s->kind);
    s->floor_m = take(r, n, sizeof *s->floor_m);
    s->eye_m = take(r, n, sizeof *s->eye_m);
    s->facing_deg = take(r, n, sizeof *s->facing_deg);
    s->width_m = take(r, n, sizeof *s->width_m);
    s->depth_m = take(r, n, sizeof *s->depth_m);
    s->sheet = take(r, n, sizeof *s->sheet);
    s->section = take(r, n, sizeof *s->section);
    return r->failed == GRADIN_OK;
}

static double eye_height_m(const gradin_audience *a, gradin_seat_kind kind) {
    return kind == GRADIN_SEAT_WHEELCHAIR ? a->wheelchair_eye_height_m : a->eye_height_m;
}

static int section_of(const builder *b, const place *p) {
    int section;
    if (p->deck >= 0) return GRADIN_ON_DECK;
    if (b->p->block[p->block].on == ON_FLOOR) return GRADIN_ON_FLOOR;
    surface_m(b->v, b->p, p->at_m, &section);
    return section >= 0 ? section : GRADIN_ON_FLOOR;
}

static bool fill_seat(builder *b, gradin_seats *s, int i) {
    const place *p = &b->place[i];
    s->id[i] = print_text(b->r, "%s-%d-%d", b->block_name[p->block], p->row, p->number);
    s->block[i] = p->block;
    s->row[i] = p->row;
    s->number[i] = p->number;
    s->kind[i] = p->kind;
    s->floor_m[i] = (gradin_vec3){p->at_m.x, p->at_m.y, p->z_m};
    s->eye_m[i] = s->floor_m[i];
    s->eye_m[i].z += eye_height_m(&b->p->audience, p->kind);
    s->facing_deg[i] = p->facing_deg;
    s->width_m[i] = p->width_m;
    s->depth_m[i] = p->depth_m;
    s->section[i] = section_of(b, p);
    s->sheet[i] = p->deck < 0 ? 0 : b->deck[p->deck].sheet;
    s->n_wheelchair += p->kind == GRADIN_SEAT_WHEELCHAIR;
    s->n_companion += p->kind == GRADIN_SEAT_COMPANION;
    return s->id[i] != NULL;
}

/* Two places of a seat list may bear one row and number. */
static void check_ids(builder *b, const gradin_seats *s) {
    for (int i = 0; i < s->n_seat; i++) {
        int block = s->block[i];
        if (block >= b->p->n_block || b->p->block[block].rows_kind != ROWS_FILE) continue;
        for (int k = i + 1; k < s->n_seat && s->block[k] == block; k++)
            if (s->row[k] == s->row[i] && s->number[k] == s->number[i]) {
                complain(b->r, b->block_at[s->block[i]], "seat %s stands twice", s->id[i]);
                return;
            }
    }
}

bool build_seats(builder *b) {
    gradin_seats *s = &b->model->seats;
    if (!take_seats(b->r, b->n_place, s)) return false;
    s->n_sheet = assign_sheets(b);
    for (int i = 0; i < b->n_place; i++)
        if (!fill_seat(b, s, i)) return false;
    check_ids(b, s);
    if (b->n_place == 0) complain(b->r, NULL, "the layout has no seat");
    b->model->block_name = b->block_name;
    b->model->n_block = b->n_block_name;
    return true;
}
