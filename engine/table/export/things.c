/* Lists what stands on a plan. A leaning pane is the outline of its rectangle seen from above. */
#include "table/export/things.h"
#include "base/shared/slope.h"

#include <stdio.h>

const char *plan_layer_name(plan_layer layer) {
    static const char *const name[N_PLAN_LAYER] = {
        "room",  "floors", "lifts", "towers", "platforms",  "structure",
        "set",   "arch",   "rails", "aisles", "vomitories", "glazing",
        "doors", "focus",  "rows",  "seats",  "names"};
    return name[layer];
}

static void add(plan_things *list, plan_thing thing) {
    if (list->failed || gradin_arena_grow(list->arena, (void **)&list->thing, list->n,
                                          &list->capacity, sizeof thing) != GRADIN_OK)
        list->failed = true;
    else
        list->thing[list->n++] = thing;
}

static void add_area(plan_things *list, plan_layer layer, const char *name, gradin_polygon area,
                     double bottom_m, double top_m) {
    add(list, (plan_thing){layer, name, area.corner_m, area.n_corner, true, bottom_m, top_m, NULL});
}

static void add_sections(plan_things *list, const gradin_model *m) {
    for (int i = 0; i < m->n_section; i++) {
        const gradin_section *s = &m->section[i];
        const gradin_setting *set = &s->machine->setting;
        int above = set->n_step > 1 ? set->n_step - 1 : 0;
        add_area(list, LAYER_LIFTS, s->name, (gradin_polygon){s->corner_m, 4}, set->position,
                 set->position + above * set->riser_m);
    }
}

static plan_layer layer_of(const gradin_solid *solid) {
    if (solid->is_of_tower) return LAYER_TOWERS;
    if (solid->kind == GRADIN_SOLID_ARCH) return LAYER_ARCH;
    return solid->kind == GRADIN_SOLID_SET ? LAYER_SET : LAYER_STRUCTURE;
}

static void add_solids(plan_things *list, const gradin_model *m) {
    for (int i = 0; i < m->n_solid; i++) {
        const gradin_solid *s = &m->solid[i];
        add_area(list, layer_of(s), s->name, s->polygon, s->bottom_m, s->top_m);
    }
    for (int i = 0; i < m->n_platform; i++) {
        const gradin_platform *p = &m->platform[i];
        add_area(list, LAYER_PLATFORMS, p->name, p->polygon, p->bottom_m, p->top_m);
    }
}

static gradin_vec2 *points(plan_things *list, int n) {
    gradin_vec2 *made = gradin_arena_alloc(list->arena, (size_t)n, sizeof *made);
    if (!made) list->failed = true;
    return made;
}

static void add_rails(plan_things *list, const gradin_model *m) {
    for (int i = 0; i < m->n_rail; i++) {
        const gradin_rail *r = &m->rail[i];
        gradin_vec2 *at = points(list, r->n_point);
        double low_m = INFINITY, high_m = -INFINITY;
        for (int k = 0; at && k < r->n_point; k++) {
            at[k] = (gradin_vec2){r->point_m[k].x, r->point_m[k].y};
            low_m = fmin(low_m, r->point_m[k].z);
            high_m = fmax(high_m, r->point_m[k].z + r->height_m);
        }
        if (at)
            add(list,
                (plan_thing){LAYER_RAILS, r->name, at, r->n_point, false, low_m, high_m, NULL});
    }
}

static void add_ways(plan_things *list, const gradin_model *m) {
    for (int i = 0; i < m->n_aisle; i++)
        add_area(list, LAYER_AISLES, m->aisle[i].name, m->aisle[i].polygon, NAN, NAN);
    for (int i = 0; i < m->n_vomitory; i++)
        add_area(list, LAYER_VOMITORIES, m->vomitory[i].name, m->vomitory[i].polygon, NAN, NAN);
}

static void add_element(plan_things *list, const gradin_element *e) {
    plan_layer layer = e->kind == GRADIN_ELEMENT_DOOR ? LAYER_DOORS : LAYER_GLAZING;
    double in_m = e->height_m * sin(gradin_rad(e->tilt_deg));
    double top_m = e->corner_m.z + e->height_m * cos(gradin_rad(e->tilt_deg));
    gradin_vec2 *at = points(list, 4);
    if (!at) return;
    at[0] = (gradin_vec2){e->corner_m.x, e->corner_m.y};
    at[1] = (gradin_vec2){at[0].x + e->width_m * e->along.x, at[0].y + e->width_m * e->along.y};
    for (int k = 2; k < 4; k++)
        at[k] = (gradin_vec2){at[3 - k].x - in_m * e->outward.x, at[3 - k].y - in_m * e->outward.y};
    bool is_upright = in_m < 1e-6;
    add(list, (plan_thing){layer, e->name, at, is_upright ? 2 : 4, !is_upright, e->corner_m.z,
                           top_m, NULL});
}

static void add_facade(plan_things *list, const gradin_model *m) {
    for (int i = 0; i < m->n_element; i++)
        if (m->element[i].kind == GRADIN_ELEMENT_PANE || m->element[i].kind == GRADIN_ELEMENT_DOOR)
            add_element(list, &m->element[i]);
}

/* A floor that rises from its lowest corner: with the heights of its corners where it does. */
static void add_plane(plan_things *list, plan_layer layer, const char *name, gradin_polygon area,
                      double lowest_m, double slope, double uphill_deg) {
    slope_plane plane = slope_rising(area.corner_m, area.n_corner, lowest_m, slope, uphill_deg);
    double *z_m = gradin_arena_alloc(list->arena, (size_t)area.n_corner, sizeof *z_m);
    double high_m = lowest_m;
    if (!z_m) list->failed = true;
    for (int i = 0; z_m && i < area.n_corner; i++) {
        z_m[i] = slope_z_m(plane, area.corner_m[i]);
        high_m = fmax(high_m, z_m[i]);
    }
    add(list, (plan_thing){layer, name, area.corner_m, area.n_corner, true, lowest_m, high_m,
                           slope > 1e-9 ? z_m : NULL});
}

static void add_floors(plan_things *list, const gradin_model *m) {
    for (int i = 0; i < m->n_floor; i++) {
        const gradin_floor_lie *lie = &m->floor_lie[i];
        add_plane(list, LAYER_FLOORS, m->floor[i].name, m->floor[i].polygon, lie->low_m, lie->slope,
                  lie->uphill_deg);
    }
}

static void add_focus(plan_things *list, const gradin_model *m) {
    for (int i = 0; i < m->n_focus; i++) {
        const gradin_focus *f = &m->focus[i];
        if (f->kind == GRADIN_FOCUS_FLOOR)
            add_plane(list, LAYER_FOCUS, f->name, f->polygon, f->z_m, f->slope, f->uphill_deg);
        else if (f->kind == GRADIN_FOCUS_UPRIGHT)
            add(list, (plan_thing){LAYER_FOCUS, f->name, f->line_m, f->n_line, false, f->bottom_m,
                                   f->top_m, NULL});
        else
            add(list,
                (plan_thing){LAYER_FOCUS, f->name, &f->point_m, 1, false, f->z_m, f->z_m, NULL});
    }
}

void plan_things_list(plan_things *list, const gradin_model *m) {
    add_area(list, LAYER_ROOM, "room", m->footprint, 0.0, m->ceiling_m);
    add_floors(list, m);
    add_sections(list, m);
    add_solids(list, m);
    add_rails(list, m);
    add_ways(list, m);
    add_facade(list, m);
    add_focus(list, m);
}

int plan_row_end(const gradin_seats *s, int first) {
    int end = first + 1;
    while (end < s->n_seat && s->block[end] == s->block[first] && s->row[end] == s->row[first])
        end++;
    return end;
}

const char *plan_row_label(const gradin_seats *s, int seat, char text[24]) {
    const char *label = s->row_label ? s->row_label[seat] : NULL;
    if (!label) snprintf(text, 24, "%d", s->row[seat]);
    return label ? label : text;
}
