/* Loose rails that are struck and set. A rail stays when an equal rail stands at the same place in
 * both layouts and no lift below it moves. Rails that share a lift section, on it or beside it, are
 * one piece of work, for they guard the same edges: people who set seats there find them standing.
 */
#include "base/lengths.h"
#include "studies/changeover/changeover.h"

#include <string.h>

static const double LEAST_PART_M = 20.0; /* a gang gets no smaller share than this */
static const double BESIDE_M = 0.3;      /* a rail this near a section guards its edge */

/* Rails of tower levels are named after them. */
static bool is_rail_of(const gradin_rail *rail, const char *level) {
    size_t n = strlen(level);
    return strncmp(rail->name, level, n) == 0 && strcmp(rail->name + n, " rail") == 0;
}

static bool is_on_tower(const changeover *c, const gradin_model *m, const gradin_rail *rail) {
    for (int i = 0; i < c->n_tower; i++) {
        const gradin_body *body = &m->machinery->body[i];
        for (int k = 0; k < body->n_part; k++)
            if (is_rail_of(rail, body->part[k].name)) return true;
    }
    return false;
}

static bool are_same_rail(const gradin_rail *a, const gradin_rail *b) {
    if (a->n_point != b->n_point || a->kind != b->kind || a->n_bar != b->n_bar ||
        fabs(a->height_m - b->height_m) > 1e-6 || fabs(a->thickness_m - b->thickness_m) > 1e-3 ||
        fabs(a->post_spacing_m - b->post_spacing_m) > 1e-3)
        return false;
    for (int i = 0; i < a->n_point; i++)
        if (gradin_norm(gradin_sub(a->point_m[i], b->point_m[i])) > 1e-4) return false;
    return true;
}

static bool stays_put(const changeover *c, const gradin_rail *rail, const gradin_model *other) {
    for (int i = 0; i < rail->n_point; i++)
        if (changeover_is_on_moving_lift(c, rail->point_m[i])) return false;
    for (int i = 0; i < other->n_rail; i++)
        if (are_same_rail(rail, &other->rail[i])) return true;
    return false;
}

/* Where people work on a rail: its corners and a point every metre between. */
static bool mark_rail(changeover *c, const gradin_rail *rail, gradin_vec3 **point_m, int *n,
                      int *capacity) {
    for (int k = 1; k < rail->n_point; k++) {
        gradin_vec3 a = rail->point_m[k - 1], way = gradin_sub(rail->point_m[k], a);
        int n_step = (int)ceil(gradin_norm(way)) + 1;
        for (int i = 0; i <= n_step; i++) {
            if (gradin_arena_grow(c->arena, (void **)point_m, *n, capacity, sizeof **point_m) !=
                GRADIN_OK)
                return changeover_no_memory(c);
            (*point_m)[(*n)++] = gradin_add(a, gradin_scale(way, (double)i / n_step));
        }
    }
    return true;
}

typedef struct group {
    double length_m;
    gradin_vec3 *point_m; /* [n_point] */
    int n_point, capacity;
    bool *section;     /* [n_section] on which it stands, or beside */
    const char *first; /* rail */
} group;

static bool is_beside(const changeover *c, int section, gradin_vec3 at_m) {
    const gradin_vec2 *corner = c->from->section[section].corner_m;
    return at_m.x > corner[0].x - BESIDE_M && at_m.x < corner[2].x + BESIDE_M &&
           at_m.y > corner[0].y - BESIDE_M && at_m.y < corner[2].y + BESIDE_M;
}

static void mark_beside(const changeover *c, const gradin_vec3 *point_m, int n, bool *section) {
    for (int i = 0; i < c->n_section; i++)
        for (int k = 0; k < n; k++) section[i] |= is_beside(c, i, point_m[k]);
}

static bool share_section(const changeover *c, const bool *a, const bool *b) {
    for (int i = 0; i < c->n_section; i++)
        if (a[i] && b[i]) return true;
    return false;
}

static bool open_group(changeover *c, const gradin_rail *rail, group *g) {
    *g = (group){.first = rail->name,
                 .section = gradin_arena_alloc(c->arena, (size_t)c->n_section, sizeof(bool))};
    if (!g->section) return changeover_no_memory(c);
    for (int k = 1; k < rail->n_point; k++)
        g->length_m += gradin_norm(gradin_sub(rail->point_m[k], rail->point_m[k - 1]));
    if (!mark_rail(c, rail, &g->point_m, &g->n_point, &g->capacity)) return false;
    mark_beside(c, g->point_m, g->n_point, g->section);
    return true;
}

/* Takes all of b into a. */
static bool join(changeover *c, group *a, const group *b) {
    a->length_m += b->length_m;
    for (int i = 0; i < c->n_section; i++) a->section[i] |= b->section[i];
    for (int i = 0; i < b->n_point; i++) {
        if (gradin_arena_grow(c->arena, (void **)&a->point_m, a->n_point, &a->capacity,
                              sizeof *a->point_m) != GRADIN_OK)
            return changeover_no_memory(c);
        a->point_m[a->n_point++] = b->point_m[i];
    }
    return true;
}

/* Joins the newest group, the last, with all that share a section with it; the first of them
 * keeps them. */
static bool settle(changeover *c, group *g, int *n) {
    for (int i = 0; i + 1 < *n; i++) {
        if (!share_section(c, g[i].section, g[*n - 1].section)) continue;
        group newest = g[*n - 1];
        if (!join(c, &g[i], &newest)) return false;
        --*n;
        group grown = g[i];
        memmove(&g[i], &g[i + 1], (size_t)(*n - i - 1) * sizeof *g);
        g[*n - 1] = grown;
        i = -1;
    }
    return true;
}

static group *group_rails(changeover *c, const gradin_model *m, const gradin_model *other, int *n) {
    group *g = gradin_arena_alloc(c->arena, (size_t)m->n_rail, sizeof *g);
    *n = 0;
    if (!g) changeover_no_memory(c);
    for (int i = 0; g && i < m->n_rail; i++) {
        const gradin_rail *rail = &m->rail[i];
        if (is_on_tower(c, m, rail) || stays_put(c, rail, other)) continue;
        if (!open_group(c, rail, &g[(*n)++]) || !settle(c, g, n)) return NULL;
    }
    return g;
}

/* The block that most seats on the group's sections belong to, or the first rail's name. */
static const char *guarded(const changeover *c, const gradin_model *m, const group *g) {
    const char *best = NULL;
    int most = 0;
    for (int block = 0; block < m->n_block; block++) {
        int n = 0;
        for (int i = 0; i < m->seats.n_seat; i++) {
            if (m->seats.block[i] != block) continue;
            int under = changeover_section_under(c, m->seats.floor_m[i]);
            n += under >= 0 && m->seats.section[i] >= 0 && g->section[under];
        }
        if (n > most) best = m->block_name[block];
        if (n > most) most = n;
    }
    return best;
}

static const char *name_of(changeover *c, const gradin_model *m, const group *g, int part,
                           int n_part) {
    const char *block = guarded(c, m, g);
    const char *name = block ? changeover_print(c, "rails at %s", block) : g->first;
    return name && n_part > 1 ? changeover_print(c, "%s, part %d of %d", name, part + 1, n_part)
                              : name;
}

static bool add_part(changeover *c, const gradin_model *m, const group *g, int part, int n_part,
                     bool is_set) {
    char length[LENGTH_CHARS];
    double rate = c->a->rail_rate * c->a->rail_crew, share_m = g->length_m / n_part;
    length_unit whole = length_unit_of(c->to->units);
    whole.decimals = 0;
    gradin_move move = {.name = name_of(c, m, g, part, n_part),
                        .task = changeover_print(c, "%s %s", is_set ? "set" : "strike",
                                                 length_text(length, share_m, whole)),
                        .lane = "rails",
                        .kind = is_set ? GRADIN_MOVE_SET : GRADIN_MOVE_STRIKE,
                        .duration_s = (int)ceil(3600.0 * share_m / rate - 1e-6),
                        .crew = c->a->rail_crew,
                        .is_rail = true,
                        .are_people_near = true};
    if (!move.name || !move.task) return changeover_no_memory(c);
    move_detail w = {
        .model = m, .section = g->section, .point_m = g->point_m, .n_point = g->n_point};
    return changeover_add(c, move, w) >= 0;
}

/* Shared out among gangs when it is long. */
static bool add_group(changeover *c, const gradin_model *m, const group *g, bool is_set) {
    int gangs = c->a->crew / c->a->rail_crew, most = (int)(g->length_m / LEAST_PART_M);
    int n_part = most < gangs ? most : gangs;
    if (n_part < 1) n_part = 1;
    for (int part = 0; part < n_part; part++)
        if (!add_part(c, m, g, part, n_part, is_set)) return false;
    return true;
}

static bool add_rails(changeover *c, const gradin_model *m, const gradin_model *other,
                      bool is_set) {
    int n = 0;
    group *g = group_rails(c, m, other, &n);
    for (int i = 0; g && i < n; i++)
        if (!add_group(c, m, &g[i], is_set)) return false;
    return g != NULL;
}

bool changeover_rails(changeover *c) {
    if (c->a->rail_rate <= 0.0) return true;
    return add_rails(c, c->from, c->to, false) && add_rails(c, c->to, c->from, true);
}
