/* Places become seats: ids, eyes, drawing sheets. */
#include "model/build.h"

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
        d->sheet = d->level > 0 && b->p->is_seated[d->tower] ? b->deck[i - 1].sheet : 0;
        while (covers(b, i, d->sheet)) d->sheet++;
        if (d->sheet + 1 > n_sheet) n_sheet = d->sheet + 1;
    }
    /* Decks without seats follow their level as far as there are sheets. */
    for (int i = 0; i < b->n_deck; i++)
        if (!b->p->is_seated[b->deck[i].tower])
            b->deck[i].sheet = b->deck[i].level < n_sheet ? b->deck[i].level : n_sheet - 1;
    return n_sheet;
}

static bool alloc_seats(complaints *c, int n, gradin_seats *s) {
    s->n_seat = n;
    s->id = alloc(c, n, sizeof *s->id);
    s->block = alloc(c, n, sizeof *s->block);
    s->row = alloc(c, n, sizeof *s->row);
    s->number = alloc(c, n, sizeof *s->number);
    s->kind = alloc(c, n, sizeof *s->kind);
    s->floor_m = alloc(c, n, sizeof *s->floor_m);
    s->eye_m = alloc(c, n, sizeof *s->eye_m);
    s->facing_deg = alloc(c, n, sizeof *s->facing_deg);
    s->width_m = alloc(c, n, sizeof *s->width_m);
    s->depth_m = alloc(c, n, sizeof *s->depth_m);
    s->sheet = alloc(c, n, sizeof *s->sheet);
    s->section = alloc(c, n, sizeof *s->section);
    return c->failed == GRADIN_OK;
}

static double eye_height_m(const gradin_audience *a, gradin_seat_kind kind) {
    return kind == GRADIN_SEAT_WHEELCHAIR ? a->wheelchair_eye_height_m : a->eye_height_m;
}

static int section_of(const builder *b, const place *p) {
    int section;
    if (p->deck >= 0) return GRADIN_ON_DECK;
    if (b->p->block[p->block].on == GRADIN_SUPPORT_FLOOR) return GRADIN_ON_FLOOR;
    gradin_surface_m(b->v, b->p, p->at_m, &section);
    return section >= 0 ? section : GRADIN_ON_FLOOR;
}

static bool fill_seat(builder *b, gradin_seats *s, int i) {
    const place *p = &b->place[i];
    s->id[i] = print_text(b->c, "%s-%d-%d", b->block_name[p->block], p->row, p->number);
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

bool build_seats(builder *b) {
    gradin_seats *s = &b->model->seats;
    if (!alloc_seats(b->c, b->n_place, s)) return false;
    s->n_sheet = assign_sheets(b);
    for (int i = 0; i < b->n_place; i++)
        if (!fill_seat(b, s, i)) return false;
    b->model->block_name = b->block_name;
    b->model->n_block = b->n_block_name;
    return true;
}
