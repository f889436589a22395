/* Does the layout make sense as stated: names unlike, rails high enough, focus areas in the room
 * and on one height, fills that face one way, seats that are there and not there twice? */
#include "base/lengths.h"
#include "model/build.h"

#include <stdlib.h>
#include <string.h>

static void check_focus_room(builder *b, const gradin_focus *f) {
    bool is_upright = f->kind == GRADIN_FOCUS_UPRIGHT, is_point = f->kind == GRADIN_FOCUS_POINT;
    const gradin_vec2 *at_m = is_upright ? f->line_m : is_point ? &f->point_m : f->polygon.corner_m;
    int n = is_upright ? f->n_line : is_point ? 1 : f->polygon.n_corner;
    for (int k = 0; k < n; k++)
        if (!gradin_polygon_contains(b->v->footprint, at_m[k])) {
            refuse(b->c, f->at, "focus %s lies outside the room's footprint", f->name);
            return;
        }
}

static void check_upright(builder *b, const gradin_focus *f) {
    double length_m = 0.0;
    for (int k = 0; k + 1 < f->n_line; k++)
        length_m += hypot(f->line_m[k + 1].x - f->line_m[k].x, f->line_m[k + 1].y - f->line_m[k].y);
    if (!(f->top_m > f->bottom_m))
        refuse(b->c, f->at, "focus %s has its top not above its bottom", f->name);
    if (!(length_m > 0.0)) refuse(b->c, f->at, "focus %s has a line without length", f->name);
}

/* Said once, where nobody would see it from empty cells alone. */
static void note_no_floor(builder *b) {
    if (b->p->c_line) return;
    for (int i = 0; i < b->p->n_focus; i++)
        if (b->p->focus[i].kind == GRADIN_FOCUS_FLOOR) return;
    note_key(b->c, NULL, "focus", "has no floor and the layout no c_line: C is not measured");
}

static void check_c_line(builder *b, const gradin_c_line *line) {
    for (int k = 0; k < line->n_point; k++)
        if (!gradin_polygon_contains(b->v->footprint, line->point_m[k])) {
            refuse(b->c, line->at, "c_line %s lies outside the room's footprint", line->name);
            return;
        }
}

void check_focus(builder *b) {
    if (b->p->c_line) check_c_line(b, b->p->c_line);
    for (int i = 0; i < b->p->n_focus; i++) {
        const gradin_focus *f = &b->p->focus[i];
        check_focus_room(b, f);
        if (f->kind == GRADIN_FOCUS_UPRIGHT) check_upright(b, f);
        if (f->kind == GRADIN_FOCUS_FLOOR && isnan(f->z_m))
            check_focus_height(b, &b->model->focus[i]);
    }
    note_no_floor(b);
}

/* "0, 90, 180 or 270", or the sides of a grid that lies at a bearing. */
static const char *sides_text(builder *b, const gradin_block *from) {
    double bearing_deg = b->v->section[from->from_section].bearing_deg;
    char side[4][64];
    for (int i = 0; i < 4; i++)
        gradin_format_fixed(side[i], sizeof side[i], gradin_wrap_360_deg(bearing_deg + 90.0 * i),
                            bearing_deg == floor(bearing_deg) ? 0 : 3);
    return print_text(b->c, "%s, %s, %s or %s", side[0], side[1], side[2], side[3]);
}

static void check_fill(builder *b, const gradin_block *from, int n_laid) {
    fill_facing facing = fill_facing_of(b, from);
    if (facing.at_odds >= 0)
        refuse_entry(b->c, from->at, from->name,
                     "fills %s, which faces %.0f deg while the block faces %.0f deg",
                     b->v->section[facing.at_odds].name, section_set(b, facing.at_odds)->facing_deg,
                     facing.block_deg);
    else if (!facing.is_stated)
        refuse_entry(b->c, from->at, from->name, "fills flat lifts; write fill.facing_deg");
    else if (isnan(facing.deg))
        refuse_entry(b->c, from->at, from->name, "fills lifts, so it faces %s deg",
                     sides_text(b, from));
    else if (n_laid == 0)
        refuse_entry(b->c, from->at, from->name,
                     "fills no seat: row_depth or seat_width is larger than a tread");
}

/* Seats that a row of arcs is given must fit. */
static void check_arcs(builder *b, const gradin_block *from) {
    for (int row = 0; row < from->n_row; row++) {
        int wanted = from->row_seat ? from->row_seat[row] : from->n_seat;
        int most = arc_holds(from, row, from->radius_m + row_back_m(from, row));
        if (wanted <= most) continue;
        refuse_entry(b->c, from->at, from->name, "row %d has %d seats; its arc holds %d", row + 1,
                     wanted, most);
        return;
    }
}

void check_blocks(builder *b) {
    for (int i = 0; i < b->n_block_name; i++) {
        const gradin_block *from = i < b->p->n_block ? &b->p->block[i] : NULL;
        if (from && from->rows == GRADIN_ROWS_FILL) check_fill(b, from, b->n_laid[i]);
        if (from && from->rows == GRADIN_ROWS_CURVED) check_arcs(b, from);
        if (i == b->full_block)
            refuse_entry(b->c, b->block_at[i], b->block_name[i], "brings the layout over %d seats",
                         GRADIN_MAX_SEAT);
    }
}

typedef struct named_seat {
    const char *id;
    int seat;
} named_seat;

static int by_name(const void *a, const void *b) {
    const named_seat *one = a, *other = b;
    int order = strcmp(one->id, other->id);
    return order != 0 ? order : one->seat - other->seat;
}

static bool is_listed(const builder *b, int block) {
    return block < b->p->n_block && b->p->block[block].rows == GRADIN_ROWS_LISTED;
}

/* Two places of seat lists may bear one row and number, and labels may add up to one name. */
static void check_ids(builder *b, const gradin_seats *s) {
    named_seat *name = alloc(b->c, s->n_seat, sizeof *name);
    int n = 0, first = -1;
    for (int i = 0; name && i < s->n_seat; i++)
        if (is_listed(b, s->block[i])) name[n++] = (named_seat){s->id[i], i};
    if (n > 0) qsort(name, (size_t)n, sizeof *name, by_name);
    for (int i = 1; i < n; i++)
        if (strcmp(name[i].id, name[i - 1].id) == 0 && (first < 0 || name[i - 1].seat < first))
            first = name[i - 1].seat;
    if (first >= 0)
        refuse(b->c, b->block_at[s->block[first]], "seat %s stands twice", s->id[first]);
}

static bool is_level(const builder *b, const char *level) {
    for (int i = 0; i < b->n_level; i++)
        if (strcmp(b->level[i], level) == 0) return true;
    return false;
}

/* What stands over another of its own level could not be drawn; an aisle of a level is one of
 * seats. */
void check_levels(builder *b) {
    const place *p = &b->doubled;
    if (b->has_doubled)
        refuse(b->c, b->block_at[p->block],
               "%s stands over another seat of its level; give one of the two another level",
               place_name(b, p));
    for (int i = 0; i < b->p->n_aisle; i++) {
        const gradin_area *aisle = &b->p->aisle[i];
        if (aisle->level && !is_level(b, aisle->level))
            refuse(b->c, NULL, "aisle %s is on level %s, on which no block has a seat", aisle->name,
                   aisle->level);
    }
    for (int i = 0; i < b->p->n_rail; i++) {
        const gradin_rail_entry *rail = &b->p->rail[i];
        if (rail->level && !is_level(b, rail->level))
            refuse(b->c, rail->at, "rail %s is on level %s, on which no block has a seat",
                   rail->name, rail->level);
    }
}

void check_seats(builder *b) {
    check_ids(b, &b->model->seats);
    if (b->n_place == 0) refuse(b->c, NULL, "the layout has no seat");
}

/* Doubts: what a layout may state but seldom means: rows closer than seats with backs stand
 * anywhere, eyes at a height at which nobody sits. Each is a note with its place; nothing is
 * refused here.
 *
 * Rows: of the published rules that state a least distance from back to back for seats with backs,
 * the smallest is 700 mm (reference/egress-seating). Eyes: seated adults and children of six and
 * more, on the floor cushion of 0.10 m up to the bar stool of 0.75 m (common practice, no source).
 */
static const double LEAST_ROW_M = 0.70;
static const double EYE_M[2] = {0.70, 1.60};
static const double BURIED_M = 0.05;

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

/* Half the breadth, from the middle of the arch, of what of the area lies beyond it as most seats
 * see it; 0 when none does. */
static double beyond_half_m(const builder *b, gradin_polygon area) {
    const gradin_divide *d = b->model->divide;
    const gradin_seats *s = &b->model->seats;
    gradin_vec2 from = d->line_m[0], to = d->line_m[1];
    gradin_vec2 middle_m = {(from.x + to.x) / 2.0, (from.y + to.y) / 2.0};
    double length_m = hypot(to.x - from.x, to.y - from.y), half_m = 0.0;
    int n_other = 0;
    for (int i = 0; i < s->n_seat; i++)
        n_other += gradin_divide_side(d, (gradin_vec2){s->floor_m[i].x, s->floor_m[i].y});
    int audience = 2 * n_other > s->n_seat;
    for (int i = 0; i < area.n_corner; i++) {
        gradin_vec2 at = area.corner_m[i];
        if (gradin_divide_side(d, at) == audience) continue;
        double along_m =
            ((at.x - middle_m.x) * (to.x - from.x) + (at.y - middle_m.y) * (to.y - from.y)) /
            length_m;
        half_m = fmax(half_m, fabs(along_m));
    }
    return half_m;
}

/* An arch that is narrower than what is looked at behind it. */
static void note_arch(builder *b) {
    if (!b->model->divide) return;
    double opening_m = arch_set(b, GRADIN_MACHINE_OPENING);
    for (int i = 0; i < b->p->n_focus; i++) {
        char has[LENGTH_CHARS], wants[LENGTH_CHARS];
        length_unit unit = length_unit_of(b->p->units);
        if (b->p->focus[i].kind != GRADIN_FOCUS_FLOOR) continue;
        double breadth_m = 2.0 * beyond_half_m(b, b->p->focus[i].polygon);
        if (breadth_m <= opening_m + 0.01) continue;
        note_key(b->c, NULL, "machines.arch.opening",
                 "%s is narrower than focus area '%s' beyond it, %s about the arch's middle: its "
                 "sides are seen by few",
                 length_text(has, opening_m, unit), b->p->focus[i].name,
                 length_text(wants, breadth_m, unit));
        return;
    }
}

static double under_m(const builder *b, const gradin_focus *f, gradin_vec2 at_m) {
    return gradin_surface_m(b->v, b->p, at_m, NULL) - gradin_focus_z_m(f, at_m);
}

/* A floor that is looked at lies on what people stand on, or above it: else the floor hides it. */
static void note_buried(builder *b, const gradin_focus *f) {
    char deep[LENGTH_CHARS];
    gradin_vec2 middle_m = gradin_polygon_centroid_m(f->polygon);
    double most_m = 0.0;
    spots within;
    if (!find_spots(b, f->polygon, &within)) return;
    for (int i = 0; i < within.n; i++) most_m = fmax(most_m, under_m(b, f, within.point_m[i]));
    for (int k = 0; k < f->polygon.n_corner; k++) {
        gradin_vec2 at_m = f->polygon.corner_m[k];
        at_m.x += (middle_m.x - at_m.x) * 0.01; /* on its own side of a section's edge */
        at_m.y += (middle_m.y - at_m.y) * 0.01;
        most_m = fmax(most_m, under_m(b, f, at_m));
    }
    if (most_m > BURIED_M)
        note_key(b->c, f->at, "z",
                 "puts focus area '%s' up to %s below the floor there, which hides that part",
                 f->name, length_text(deep, most_m, length_unit_of(b->p->units)));
}

void note_doubts(builder *b) {
    for (int i = 0; i < b->p->n_focus; i++)
        if (b->p->focus[i].kind == GRADIN_FOCUS_FLOOR) note_buried(b, &b->model->focus[i]);
    note_rows(b);
    note_arch(b);
    note_eye(b, "audience.eye_height", b->p->audience.eye_height_m);
    note_eye(b, "audience.wheelchair_eye_height", b->p->audience.wheelchair_eye_height_m);
    note_misplaced(b);
}
