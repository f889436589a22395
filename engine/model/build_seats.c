/* Places become seats: ids, eyes, levels. */
#include "model/build.h"

#include <string.h>

static bool alloc_seats(complaints *c, int n, gradin_seats *s) {
    s->n_seat = n;
    s->id = alloc(c, n, sizeof *s->id);
    s->block = alloc(c, n, sizeof *s->block);
    s->row = alloc(c, n, sizeof *s->row);
    s->number = alloc(c, n, sizeof *s->number);
    s->row_label = alloc(c, n, sizeof *s->row_label);
    s->seat_label = alloc(c, n, sizeof *s->seat_label);
    s->kind = alloc(c, n, sizeof *s->kind);
    s->floor_m = alloc(c, n, sizeof *s->floor_m);
    s->eye_m = alloc(c, n, sizeof *s->eye_m);
    s->facing_deg = alloc(c, n, sizeof *s->facing_deg);
    s->width_m = alloc(c, n, sizeof *s->width_m);
    s->depth_m = alloc(c, n, sizeof *s->depth_m);
    s->sheet = alloc(c, n, sizeof *s->sheet);
    s->section = alloc(c, n, sizeof *s->section);
    s->level = alloc(c, n, sizeof *s->level);
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

/* Index of a level's name, added when it is new; -1 when out of memory. */
static int level_of(builder *b, const char *name) {
    for (int i = b->n_level - 1; i >= 0; i--)
        if (strcmp(b->level[i], name) == 0) return i;
    if (!grow(b->c, (void **)&b->level, b->n_level, &b->level_capacity, sizeof *b->level))
        return -1;
    b->level[b->n_level] = name;
    return b->n_level++;
}

/* The label, or the number as text. */
static const char *label_of(builder *b, const char *label, int number) {
    return label ? label : print_text(b->c, "%d", number);
}

/* NULL is kept as the failure, and shows in no complaint. */
const char *place_name(builder *b, const place *p) {
    return print_text(b->c, "%s row %s seat %s", b->block_name[p->block],
                      label_of(b, p->row_label, p->row), label_of(b, p->seat_label, p->number));
}

static bool fill_seat(builder *b, gradin_seats *s, int i) {
    const place *p = &b->place[i];
    s->id[i] = print_text(b->c, "%s-%s-%s", b->block_name[p->block],
                          label_of(b, p->row_label, p->row), label_of(b, p->seat_label, p->number));
    s->block[i] = p->block;
    s->row[i] = p->row;
    s->number[i] = p->number;
    s->row_label[i] = p->row_label;
    s->seat_label[i] = p->seat_label;
    s->kind[i] = p->kind;
    s->floor_m[i] = (gradin_vec3){p->at_m.x, p->at_m.y, p->z_m};
    s->eye_m[i] = s->floor_m[i];
    s->eye_m[i].z += eye_height_m(&b->p->audience, p->kind);
    s->facing_deg[i] = p->facing_deg;
    s->width_m[i] = p->width_m;
    s->depth_m[i] = p->depth_m;
    s->section[i] = section_of(b, p);
    s->sheet[i] = p->sheet;
    s->level[i] = level_of(b, p->level);
    s->n_wheelchair += p->kind == GRADIN_SEAT_WHEELCHAIR;
    s->n_companion += p->kind == GRADIN_SEAT_COMPANION;
    return s->id[i] != NULL && s->level[i] >= 0;
}

/* The names of the levels that have a place on the sheet. */
static const char *sheet_name(builder *b, int sheet) {
    const gradin_seats *s = &b->model->seats;
    bool *is_there = alloc(b->c, b->n_level, sizeof *is_there);
    const char *name = "";
    if (!is_there) return NULL;
    for (int i = 0; i < s->n_seat && name; i++) {
        if (s->sheet[i] != sheet || is_there[s->level[i]]) continue;
        is_there[s->level[i]] = true;
        name = print_text(b->c, "%s%s%s", name, name[0] ? ", " : "", b->level[s->level[i]]);
    }
    return name;
}

static bool name_sheets(builder *b) {
    const char **name = alloc(b->c, b->n_sheet, sizeof *name);
    for (int i = 0; name && i < b->n_sheet; i++)
        if (!(name[i] = sheet_name(b, i))) return false;
    b->model->sheet_name = name;
    b->model->level_name = b->level;
    b->model->n_level = b->n_level;
    return name != NULL;
}

bool build_seats(builder *b) {
    gradin_seats *s = &b->model->seats;
    if (!alloc_seats(b->c, b->n_place, s)) return false;
    build_deck_sheets(b);
    s->n_sheet = b->n_sheet;
    for (int i = 0; i < b->n_place; i++)
        if (!fill_seat(b, s, i)) return false;
    b->model->block_name = b->block_name;
    b->model->n_block = b->n_block_name;
    return name_sheets(b);
}
