/* Levels and drawing sheets. A level is what the layout names, or the storey of a tower; places
 * without one are on the main floor, or above it where they stand over others. Each named level of
 * the blocks has a sheet of its own, lowest first; the rest share sheets as far as nobody covers
 * anybody. */
#include "model/build.h"

#include <stdlib.h>
#include <string.h>

/* Places that go to one sheet together: a named level, or a block without one. */
typedef struct unit {
    const char *level; /* NULL: a block without one */
    int block;
    double least_m; /* lowest tread */
    int rank;       /* unnamed: 0 for the main floor, above it 1 .. */
    int sheet;
} unit;

typedef struct levels {
    builder *b;
    unit *unit; /* [n_unit] */
    int *of;    /* [n_place] its unit */
    bool *over; /* [n_unit][n_unit] one stands over the other */
    int n_unit, n_capacity;
} levels;

static const double NEVER_M = 1e9;

static int find_unit(const levels *l, const place *p) {
    for (int i = l->n_unit - 1; i >= 0; i--) {
        const unit *u = &l->unit[i];
        if (p->level ? u->level && strcmp(u->level, p->level) == 0
                     : !u->level && u->block == p->block)
            return i;
    }
    return -1;
}

static bool take_place(levels *l, int index) {
    const place *p = &l->b->place[index];
    int found = find_unit(l, p);
    if (found < 0) {
        if (!grow(l->b->c, (void **)&l->unit, l->n_unit, &l->n_capacity, sizeof *l->unit))
            return false;
        found = l->n_unit++;
        l->unit[found] = (unit){p->level, p->block, NEVER_M, 0, -1};
    }
    l->of[index] = found;
    l->unit[found].least_m = fmin(l->unit[found].least_m, p->z_m);
    return true;
}

static int west_first(const void *a, const void *b) {
    const place *p = *(const place *const *)a, *q = *(const place *const *)b;
    if (p->at_m.x != q->at_m.x) return p->at_m.x < q->at_m.x ? -1 : 1;
    return (p > q) - (p < q);
}

static double reach_m(const place *p) {
    return hypot(p->width_m, p->depth_m) / 2.0;
}

static bool stands_over(const place *p, const place *q) {
    gradin_vec2 p_corner_m[4], q_corner_m[4];
    double apart_m = hypot(p->at_m.x - q->at_m.x, p->at_m.y - q->at_m.y);
    if (fabs(p->z_m - q->z_m) <= HEADROOM_M || apart_m > reach_m(p) + reach_m(q)) return false;
    place_corners(p, fmin(p->depth_m, BODY_DEPTH_M), p_corner_m);
    place_corners(q, fmin(q->depth_m, BODY_DEPTH_M), q_corner_m);
    return gradin_polygon_overlap((gradin_polygon){p_corner_m, 4}, (gradin_polygon){q_corner_m, 4},
                                  0.02);
}

static void note_pair(levels *l, const place *p, const place *q) {
    int i = l->of[p - l->b->place], k = l->of[q - l->b->place];
    if (l->over[i * l->n_unit + k] || !stands_over(p, q)) return;
    l->over[i * l->n_unit + k] = l->over[k * l->n_unit + i] = true;
    if (i == k && !l->b->has_doubled) l->b->doubled = p->z_m > q->z_m ? *p : *q;
    if (i == k) l->b->has_doubled = true;
}

static bool find_over(levels *l) {
    const place **sorted = alloc(l->b->c, l->b->n_place, sizeof *sorted);
    double widest_m = 0.0;
    int n = l->b->n_place;
    l->over = alloc(l->b->c, l->n_unit * l->n_unit, sizeof *l->over);
    if (!sorted || !l->over) return false;
    for (int i = 0; i < n; i++) {
        sorted[i] = &l->b->place[i];
        widest_m = fmax(widest_m, 2.0 * reach_m(sorted[i]));
    }
    qsort(sorted, (size_t)n, sizeof *sorted, west_first);
    for (int i = 0; i < n; i++)
        for (int k = i + 1; k < n && sorted[k]->at_m.x - sorted[i]->at_m.x < widest_m; k++)
            note_pair(l, sorted[i], sorted[k]);
    return true;
}

/* The lowest unit that has no sheet yet; of two alike the one that is stated first. */
static int lowest_left(const levels *l, bool named) {
    int lowest = -1;
    for (int i = 0; i < l->n_unit; i++) {
        bool is_one = l->unit[i].sheet < 0 && (l->unit[i].level != NULL) == named;
        if (is_one && (lowest < 0 || l->unit[i].least_m < l->unit[lowest].least_m)) lowest = i;
    }
    return lowest;
}

static bool is_clear(const levels *l, int index, int sheet) {
    for (int i = 0; i < l->n_unit; i++)
        if (i != index && l->unit[i].sheet == sheet && l->over[index * l->n_unit + i]) return false;
    return true;
}

/* First sheets as they come: shared ones of the unnamed, then one for each level. */
static int first_sheets(levels *l) {
    int n = 0, i;
    while ((i = lowest_left(l, false)) >= 0) {
        int sheet = 0;
        while (!is_clear(l, i, sheet)) sheet++;
        l->unit[i].sheet = l->unit[i].rank = sheet;
        if (sheet + 1 > n) n = sheet + 1;
    }
    while ((i = lowest_left(l, true)) >= 0) l->unit[i].sheet = n++;
    return n;
}

static double lowest_of(const levels *l, int sheet) {
    double lowest_m = NEVER_M;
    for (int i = 0; i < l->n_unit; i++)
        if (l->unit[i].sheet == sheet) lowest_m = fmin(lowest_m, l->unit[i].least_m);
    return lowest_m;
}

/* How many sheets lie below this one. */
static int place_among(const levels *l, int sheet, int n_sheet) {
    int n = 0;
    for (int other = 0; other < n_sheet; other++) {
        double here_m = lowest_of(l, sheet), there_m = lowest_of(l, other);
        n += there_m < here_m || (there_m == here_m && other < sheet);
    }
    return n;
}

static bool sort_sheets(levels *l, int n_sheet) {
    int *sorted = alloc(l->b->c, n_sheet, sizeof *sorted);
    if (!sorted) return false;
    for (int i = 0; i < n_sheet; i++) sorted[i] = place_among(l, i, n_sheet);
    for (int i = 0; i < l->n_unit; i++) l->unit[i].sheet = sorted[l->unit[i].sheet];
    return true;
}

static bool name_place(levels *l, int index) {
    place *p = &l->b->place[index];
    const unit *u = &l->unit[l->of[index]];
    p->sheet = u->sheet;
    if (!p->level)
        p->level = u->rank == 0 ? "main floor" : print_text(l->b->c, "level %d", u->rank + 1);
    return p->level != NULL;
}

bool build_levels(builder *b) {
    levels l = {.b = b, .of = alloc(b->c, b->n_place, sizeof *l.of)};
    if (!l.of) return false;
    for (int i = 0; i < b->n_place; i++)
        if (!take_place(&l, i)) return false;
    if (l.n_unit == 0) return true;
    if (!find_over(&l)) return false;
    b->n_sheet = first_sheets(&l);
    if (!sort_sheets(&l, b->n_sheet)) return false;
    for (int i = 0; i < b->n_place; i++)
        if (!name_place(&l, i)) return false;
    return true;
}

static bool is_touched(const place *p, gradin_polygon aisle) {
    gradin_vec2 corner_m[4];
    place_corners(p, fmin(p->depth_m, BODY_DEPTH_M), corner_m);
    return gradin_polygon_overlap((gradin_polygon){corner_m, 4}, aisle, 0.02);
}

/* An aisle without a level is one of the lowest sheet on which it touches a place. */
static int sheet_of(const builder *b, const gradin_area *aisle) {
    int lowest = -1;
    for (int i = 0; i < b->n_place; i++) {
        const place *p = &b->place[i];
        if (p->deck >= 0 || (lowest >= 0 && p->sheet >= lowest)) continue;
        bool is_one =
            aisle->level ? strcmp(aisle->level, p->level) == 0 : is_touched(p, aisle->polygon);
        if (is_one) lowest = p->sheet;
    }
    return lowest;
}

/* -1: on all sheets, or no place has that level. */
int sheet_of_level(const builder *b, const char *level) {
    for (int i = 0; level && i < b->n_place; i++)
        if (strcmp(b->place[i].level, level) == 0) return b->place[i].sheet;
    return -1;
}

bool build_aisle_sheets(builder *b) {
    int *sheet = alloc(b->c, b->p->n_aisle, sizeof *sheet);
    if (!sheet) return false;
    for (int i = 0; i < b->p->n_aisle; i++) sheet[i] = sheet_of(b, &b->p->aisle[i]);
    b->model->aisle_sheet = sheet;
    return true;
}

bool is_in_aisle(const builder *b, const place *p) {
    for (int i = 0; i < b->p->n_aisle; i++)
        if (b->model->aisle_sheet[i] == p->sheet && is_touched(p, b->p->aisle[i].polygon))
            return true;
    return false;
}

/* Decks are drawn on the lowest sheet on which none of their seats covers another's. */
static bool covers(const builder *b, int deck_index, int sheet) {
    for (int i = 0; i < b->n_place; i++) {
        const place *p = &b->place[i];
        if (p->deck != deck_index) continue;
        gradin_vec2 p_corner_m[4], q_corner_m[4];
        place_corners(p, p->depth_m, p_corner_m);
        for (int k = 0; k < b->n_place; k++) {
            const place *q = &b->place[k];
            int other = q->deck < 0 ? q->sheet : q->deck < deck_index ? b->deck[q->deck].sheet : -1;
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

void build_deck_sheets(builder *b) {
    if (b->n_sheet < 1) b->n_sheet = 1;
    for (int i = 0; i < b->n_deck; i++) {
        deck *d = &b->deck[i];
        d->sheet = d->level > 0 && b->p->is_seated[d->tower] ? b->deck[i - 1].sheet : 0;
        while (covers(b, i, d->sheet)) d->sheet++;
        if (d->sheet + 1 > b->n_sheet) b->n_sheet = d->sheet + 1;
    }
    /* Decks without seats follow their level as far as there are sheets. */
    for (int i = 0; i < b->n_deck; i++)
        if (!b->p->is_seated[b->deck[i].tower])
            b->deck[i].sheet = b->deck[i].level < b->n_sheet ? b->deck[i].level : b->n_sheet - 1;
    for (int i = 0; i < b->n_place; i++)
        if (b->place[i].deck >= 0) b->place[i].sheet = b->deck[b->place[i].deck].sheet;
}
