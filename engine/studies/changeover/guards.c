/* Which seats a rail guards: those on a lift section that it stands on or beside, and those of a
 * block that has a seat near the rail at about its level, or that shares a slab with it (a gallery,
 * a platform). Whole blocks count, for people walk along their rows. */
#include "studies/changeover/changeover.h"

static const double NEAR_M = 2.5;  /* common practice, no source: two rows and the way to them */
static const double LEVEL_M = 1.0; /* from the rail's foot to the tread */
static const double EDGE_M = 0.3;  /* a rail this near a slab stands at its edge */
static const double FOOT_M = 0.35; /* and about as high */
static const double STACK_M = 4.0; /* rows rise this far over the slab that carries them */

static bool share_section(const changeover *c, const move_detail *rails, const move_detail *seats) {
    for (int i = 0; i < c->n_section; i++)
        if (rails->section[i] && seats->section[i]) return true;
    return false;
}

static bool is_at_slab(const gradin_solid *s, const move_detail *rails) {
    for (int i = 0; i < rails->n_point; i++) {
        gradin_vec3 p = rails->point_m[i];
        if (fabs(p.z - s->top_m) > FOOT_M) continue;
        for (int k = 0; k < 9; k++) { /* the point itself and eight round it */
            gradin_vec2 at_m = {p.x + (k % 3 - 1) * EDGE_M, p.y + (k / 3 - 1) * EDGE_M};
            if (gradin_polygon_contains(s->polygon, at_m)) return true;
        }
    }
    return false;
}

static bool is_on_slab(const gradin_solid *s, gradin_vec3 seat_m) {
    return seat_m.z > s->top_m - FOOT_M && seat_m.z < s->top_m + STACK_M &&
           gradin_polygon_contains(s->polygon, (gradin_vec2){seat_m.x, seat_m.y});
}

static bool is_near(const move_detail *rails, gradin_vec3 seat_m) {
    for (int i = 0; i < rails->n_point; i++) {
        gradin_vec3 way = gradin_sub(seat_m, rails->point_m[i]);
        if (fabs(way.z) <= LEVEL_M && hypot(way.x, way.y) <= NEAR_M) return true;
    }
    return false;
}

static bool are_block_seats_near(const move_detail *rails, const gradin_seats *s, int block) {
    for (int i = 0; i < s->n_seat; i++)
        if (s->block[i] == block && is_near(rails, s->floor_m[i])) return true;
    return false;
}

static bool share_slab(const move_detail *rails, const move_detail *seats) {
    const gradin_model *m = rails->model;
    for (int i = 0; i < m->n_solid; i++) {
        if (m->solid[i].kind != GRADIN_SOLID_SLAB || !is_at_slab(&m->solid[i], rails)) continue;
        for (int k = 0; k < seats->n_seat; k++)
            if (is_on_slab(&m->solid[i], m->seats.floor_m[seats->seat[k]])) return true;
    }
    return false;
}

bool changeover_guards(const changeover *c, const move_detail *rails, const move_detail *seats) {
    if (share_section(c, rails, seats)) return true;
    if (rails->model != seats->model || seats->n_seat == 0) return false;
    const gradin_seats *s = &seats->model->seats;
    return are_block_seats_near(rails, s, s->block[seats->seat[0]]) || share_slab(rails, seats);
}

/* Old and new rails of one place. */
bool changeover_rails_meet(const move_detail *a, const move_detail *b) {
    for (int i = 0; i < a->n_point; i++)
        for (int k = 0; k < b->n_point; k++)
            if (gradin_norm(gradin_sub(a->point_m[i], b->point_m[k])) <= 2.0 * EDGE_M) return true;
    return false;
}
