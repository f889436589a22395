/* Scenery that comes in and goes out: what differs between the two layouts, and what each piece of
 * it needs meanwhile: its floor level, its door open. What stands in both at one place stays,
 * unless a lift below it moves and not both layouts let it ride, or it stands where something else
 * has to pass: then it goes out and comes back. */
#include "studies/changeover/changeover.h"

#include <string.h>

static const double LEVEL_M = 0.005;
static const double TOUCH_M = 0.04;
static const double STAND_M = 1e-3; /* platforms and solids no farther off are the same */
enum { POINTS_A_M2 = 4 };

static bool are_same(const gradin_scenery *a, const gradin_scenery *b) {
    return strcmp(a->name, b->name) == 0 && a->pieces == b->pieces &&
           fabs(a->height_m - b->height_m) <= LEVEL_M &&
           gradin_polygon_is_same(a->area, b->area, LEVEL_M);
}

bool changeover_areas_meet(gradin_polygon a, gradin_polygon b) {
    return a.n_corner > 0 && b.n_corner > 0 && gradin_polygon_overlap(a, b, TOUCH_M);
}

bool changeover_is_over(const changeover *c, int section, gradin_polygon area) {
    gradin_polygon own = {c->from->section[section].corner_m, 4};
    return changeover_areas_meet(own, area);
}

static bool moves_below(const changeover *c, const gradin_scenery *s) {
    for (int i = 0; i < c->n_section; i++)
        if (!gradin_setting_equal(&c->a->machine[i].setting, &c->b->machine[i].setting) &&
            changeover_is_over(c, i, s->area))
            return true;
    return false;
}

/* Which of the other layout's it is and may stay; -1: none. */
static int find_twin(const changeover *c, const gradin_scenery *s) {
    for (int i = 0; i < c->b->n_scenery; i++) {
        const gradin_scenery *other = &c->b->scenery[i];
        if (!are_same(s, other)) continue;
        return (s->rides && other->rides) || !moves_below(c, s) ? i : -1;
    }
    return -1;
}

static bool is_a_twin(const changeover *c, const int *twin, int other) {
    for (int i = 0; i < c->a->n_scenery; i++)
        if (twin[i] == other) return true;
    return false;
}

/* Does anything that goes out or comes in pass over there? */
static bool is_in_a_way(const changeover *c, const int *twin, gradin_polygon area) {
    for (int i = 0; i < c->a->n_scenery; i++)
        if (twin[i] < 0 && changeover_areas_meet(c->a->scenery[i].way, area)) return true;
    for (int i = 0; i < c->b->n_scenery; i++)
        if (!is_a_twin(c, twin, i) && changeover_areas_meet(c->b->scenery[i].way, area))
            return true;
    return false;
}

/* twin[a->n_scenery] of what stays, else -1. What makes way may have a way of its own. */
static void find_twins(const changeover *c, int *twin) {
    for (int i = 0; i < c->a->n_scenery; i++) twin[i] = find_twin(c, &c->a->scenery[i]);
    for (int i = 0; i < c->a->n_scenery; i++) {
        if (twin[i] < 0 || !is_in_a_way(c, twin, c->a->scenery[i].area)) continue;
        twin[i] = -1;
        i = -1; /* from the first on again */
    }
}

/* The height of the area in its own layout: all of it stands on one. */
static bool find_stands(changeover *c, const gradin_machinery *m, scenery_job *j) {
    const gradin_vec2 east = {1.0, 0.0};
    gradin_vec2 *spot_m;
    int n = 0;
    for (int i = 0; i < c->n_section; i++)
        if (changeover_is_over(c, i, j->s->area)) {
            j->stands_m = m->machine[i].setting.position;
            return true;
        }
    if (gradin_polygon_grid(c->arena, j->s->area, east, 1, &spot_m, &n) != GRADIN_OK)
        return changeover_no_memory(c);
    int region = n > 0 ? gradin_floor_region_find(c->from->floor, c->from->n_floor, spot_m[0]) : -1;
    if (region >= 0) j->stands_m = gradin_floor_region_z_m(&c->from->floor[region], spot_m[0]);
    return true;
}

static gradin_interlock rule_of(changeover *c, const scenery_job *j, const char *what, double low,
                                double high) {
    int *holder = gradin_arena_alloc(c->arena, (size_t)c->a->n_machine, sizeof *holder);
    return (gradin_interlock){.name = changeover_print(c, "%s while %s %s", what, j->s->name,
                                                       j->is_in ? "comes in" : "goes out"),
                              .holder = holder,
                              .within = {low, high}};
}

static void add_holder(gradin_interlock *rule, int machine) {
    ((int *)rule->holder)[rule->n_holder++] = machine;
}

static bool find_needs(changeover *c, scenery_job *j) {
    j->floor = rule_of(c, j, "the floor is level", j->level_m - LEVEL_M, j->level_m + LEVEL_M);
    j->door = rule_of(c, j, "the door is open", 1.0 - LEVEL_M, 1.0);
    if (!j->floor.name || !j->floor.holder || !j->door.name || !j->door.holder)
        return changeover_no_memory(c);
    for (int i = 0; i < c->a->n_machine; i++) {
        const gradin_machine *m = &c->a->machine[i];
        if (i < c->n_section &&
            (changeover_is_over(c, i, j->s->area) || changeover_is_over(c, i, j->s->way)))
            add_holder(&j->floor, i);
        if (m->kind == GRADIN_MACHINE_DOOR && m->item == j->s->door) add_holder(&j->door, i);
    }
    return true;
}

/* twin: the other layout's, when the piece stays. */
static bool add_job(changeover *c, const gradin_machinery *own, const gradin_scenery *s, bool is_in,
                    const gradin_scenery *twin) {
    bool is_kept = twin != NULL;
    scenery_job *j = &c->job[c->n_job];
    *j = (scenery_job){.s = s,
                       .is_in = is_in,
                       .is_kept = is_kept,
                       .rides = s->rides && (!twin || twin->rides),
                       .move = -1};
    if (!find_stands(c, own, j)) return false;
    j->level_m = isnan(s->level_m) ? j->stands_m : s->level_m;
    if (!is_kept && !find_needs(c, j)) return false;
    *(is_kept ? &c->out->n_piece_kept
      : is_in ? &c->out->n_piece_in
              : &c->out->n_piece_out) += s->pieces;
    c->n_job++;
    return true;
}

bool changeover_scenery_jobs(changeover *c) {
    size_t n = (size_t)(c->a->n_scenery + c->b->n_scenery);
    if (n == 0) return true;
    c->job = gradin_arena_alloc(c->arena, n, sizeof *c->job);
    int *twin = gradin_arena_alloc(c->arena, n, sizeof *twin);
    if (!c->job || !twin) return changeover_no_memory(c);
    find_twins(c, twin);
    for (int i = 0; i < c->a->n_scenery; i++) {
        const gradin_scenery *kept = twin[i] >= 0 ? &c->b->scenery[twin[i]] : NULL;
        if (!add_job(c, c->a, &c->a->scenery[i], false, kept)) return false;
    }
    for (int i = 0; i < c->b->n_scenery; i++)
        if (!is_a_twin(c, twin, i) && !add_job(c, c->b, &c->b->scenery[i], true, NULL))
            return false;
    return true;
}

bool changeover_is_kept_at(const changeover *c, const gradin_polygon *swept, double bottom_m,
                           double top_m, const char **name) {
    for (int i = 0; i < c->n_job; i++) {
        const scenery_job *j = &c->job[i];
        if (!j->is_kept || bottom_m > j->stands_m + j->s->height_m - LEVEL_M ||
            top_m < j->stands_m + TOUCH_M || !changeover_areas_meet(*swept, j->s->area))
            continue;
        *name = j->s->name;
        return true;
    }
    return false;
}

static bool add_points(changeover *c, gradin_polygon polygon, double z_m, move_detail *w) {
    const gradin_vec2 east = {1.0, 0.0};
    gradin_vec2 *spot_m;
    int n = 0, wanted = 4 + (int)(POINTS_A_M2 * gradin_polygon_area_m2(polygon));
    if (gradin_polygon_grid(c->arena, polygon, east, wanted, &spot_m, &n) != GRADIN_OK)
        return changeover_no_memory(c);
    size_t n_all = (size_t)(w->n_point + n);
    gradin_vec3 *point_m = gradin_arena_alloc(c->arena, n_all + 1, sizeof *point_m);
    if (!point_m) return changeover_no_memory(c);
    for (int i = 0; i < w->n_point; i++) point_m[i] = w->point_m[i];
    for (int i = 0; i < n; i++)
        point_m[w->n_point + i] = (gradin_vec3){spot_m[i].x, spot_m[i].y, z_m};
    w->point_m = point_m;
    w->n_point += n;
    return true;
}

static bool mark_sections(changeover *c, const gradin_scenery *s, move_detail *w) {
    bool *section = gradin_arena_alloc(c->arena, (size_t)c->n_section + 1, sizeof *section);
    if (!section) return changeover_no_memory(c);
    for (int i = 0; i < c->n_section; i++) section[i] = changeover_is_over(c, i, s->area);
    w->section = section;
    return true;
}

static bool fill_detail(changeover *c, const scenery_job *j, move_detail *w) {
    const gradin_scenery *s = j->s;
    w->scenery = j;
    if (!mark_sections(c, s, w) || !add_points(c, s->area, j->stands_m, w)) return false;
    w->n_stand = w->n_point;
    return s->way.n_corner == 0 || add_points(c, s->way, j->level_m, w);
}

static bool add_move(changeover *c, scenery_job *j) {
    const gradin_scenery *s = j->s;
    move_detail w = {.n_trip = s->door < 0 ? (s->pieces + s->per_trip - 1) / s->per_trip : 0};
    double need_s = s->pieces * (j->is_in ? s->in_s : s->out_s);
    need_s = fmax(need_s, (double)w.n_trip * c->trip_s);
    gradin_move move = {.name = s->name,
                        .task = changeover_print(c, "%s %d %s, %s %s",
                                                 j->is_in ? "bring in" : "take out", s->pieces,
                                                 s->pieces == 1 ? "piece" : "pieces",
                                                 s->door >= 0 ? "through" : "by", s->by),
                        .lane = "scenery",
                        .kind = j->is_in ? GRADIN_MOVE_SET : GRADIN_MOVE_STRIKE,
                        .duration_s = (int)fmax(1.0, ceil(need_s - 1e-6)),
                        .crew = s->crew,
                        .are_people_near = true};
    if (!move.task) return changeover_no_memory(c);
    if (!fill_detail(c, j, &w)) return false;
    j->move = changeover_add(c, move, w);
    return j->move >= 0;
}

bool changeover_scenery(changeover *c) {
    for (int i = 0; i < c->n_job; i++)
        if (!c->job[i].is_kept && !add_move(c, &c->job[i])) return false;
    return true;
}

/* What one layout alone has and no move builds: platforms under raised rows, set pieces, decks and
 * walls that are stated as solids. Their rates are not known, so the plan says how many there are.
 */
static bool is_as_high(double bottom_m, double top_m, double other_bottom_m, double other_top_m) {
    return fabs(bottom_m - other_bottom_m) <= STAND_M && fabs(top_m - other_top_m) <= STAND_M;
}

static bool has_platform(const gradin_model *m, const gradin_platform *p) {
    for (int i = 0; i < m->n_platform; i++) {
        const gradin_platform *o = &m->platform[i];
        if (is_as_high(o->bottom_m, o->top_m, p->bottom_m, p->top_m) &&
            gradin_polygon_is_same(o->polygon, p->polygon, STAND_M))
            return true;
    }
    return false;
}

static bool has_solid(const gradin_model *m, const gradin_solid *s) {
    for (int i = 0; i < m->n_solid; i++) {
        const gradin_solid *o = &m->solid[i];
        if (o->kind == s->kind && o->n_triangle == s->n_triangle &&
            is_as_high(o->bottom_m, o->top_m, s->bottom_m, s->top_m) &&
            gradin_polygon_is_same(o->polygon, s->polygon, STAND_M))
            return true;
    }
    return false;
}

/* Of `own` and not of the other. The arch and the decks of towers move by themselves. */
static int count_of(const gradin_model *own, const gradin_model *other) {
    int n = 0;
    for (int i = 0; i < own->n_platform; i++) n += !has_platform(other, &own->platform[i]);
    for (int i = 0; i < own->n_solid; i++) {
        const gradin_solid *s = &own->solid[i];
        if (s->is_of_tower || s->kind == GRADIN_SOLID_ARCH) continue;
        n += !has_solid(other, s);
    }
    return n;
}

void changeover_count_stands(changeover *c) {
    c->out->n_stand_out = count_of(c->from, c->to);
    c->out->n_stand_in = count_of(c->to, c->from);
}
