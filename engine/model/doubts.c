/* What a layout may state but seldom means: rows closer than seats with backs stand anywhere, eyes
 * at a height at which nobody sits. Each is a note with its place; nothing is refused here.
 *
 * Rows: of the published rules that state a least distance from back to back for seats with backs,
 * the smallest is 700 mm (reference/egress-seating). Eyes: seated adults and children of six and
 * more, on the floor cushion of 0.10 m up to the bar stool of 0.75 m (common practice, no source).
 */
#include "base/lengths.h"
#include "model/build.h"

static const double LEAST_ROW_M = 0.70;
static const double EYE_M[2] = {0.70, 1.60};

static void note_depth(builder *b, const gradin_place *at, const char *name, double depth_m) {
    char has[LENGTH_CHARS], least[LENGTH_CHARS];
    length_unit unit = length_unit_of(b->p->units);
    if (depth_m >= LEAST_ROW_M - 1e-9) return;
    note_key(b->c, at ? at : &(gradin_place){.key = name}, "row_depth",
             "%s from row to row is less than any published rule in the reference allows for seats "
             "with backs (%s); the local code decides",
             length_text(has, depth_m, unit), length_text(least, LEAST_ROW_M, unit));
}

/* The shallowest row of a block. */
static double least_depth_m(const gradin_block *from) {
    double least_m = from->depth_m ? INFINITY : from->row_depth_m;
    for (int i = 0; from->depth_m && i < from->n_row; i++)
        least_m = fmin(least_m, from->depth_m[i]);
    return least_m;
}

static bool has_seats(const builder *b, int block) {
    const gradin_seats *s = &b->model->seats;
    for (int i = 0; i < s->n_seat; i++)
        if (s->block[i] == block && s->kind[i] == GRADIN_SEAT_STANDARD) return true;
    return false;
}

static void note_rows(builder *b) {
    for (int i = 0; i < b->p->n_block; i++)
        if (has_seats(b, i))
            note_depth(b, b->p->block[i].at, b->p->block[i].name, least_depth_m(&b->p->block[i]));
    for (int i = 0; i < b->n_deck; i++) {
        const deck *d = &b->deck[i];
        const gradin_tower_level *level = &b->v->tower[d->tower].level[d->level];
        if (b->p->is_seated[d->tower]) note_depth(b, level->at, d->name, level->row_depth_m);
    }
}

static void note_eye(builder *b, const char *key, double eye_m) {
    char has[LENGTH_CHARS], low[LENGTH_CHARS], high[LENGTH_CHARS];
    length_unit unit = length_unit_of(b->p->units);
    if (eye_m >= EYE_M[0] && eye_m <= EYE_M[1]) return;
    note_key(b->c, NULL, key,
             "puts seated eyes %s above the tread; they are seldom outside %s to %s",
             length_text(has, eye_m, unit), length_number(low, EYE_M[0], unit),
             length_text(high, EYE_M[1], unit));
}

void note_doubts(builder *b) {
    note_rows(b);
    note_eye(b, "audience.eye_height", b->p->audience.eye_height_m);
    note_eye(b, "audience.wheelchair_eye_height", b->p->audience.wheelchair_eye_height_m);
}
