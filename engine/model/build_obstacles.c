/* What stands solid besides the towers: fixed solids, lift treads, the arch's panels. */
#include "model/build.h"

static gradin_cause cause_of(gradin_solid_kind kind) {
    return kind == GRADIN_SOLID_ARCH ? GRADIN_CAUSE_ARCH : GRADIN_CAUSE_STRUCTURE;
}

static bool add_solids(builder *b, const gradin_solid *solid, int n_solid, int machine) {
    for (int i = 0; i < n_solid; i++) {
        obstacle o = {.name = solid[i].name,
                      .cause = cause_of(solid[i].kind),
                      .polygon = solid[i].polygon,
                      .bottom_m = solid[i].bottom_m,
                      .top_m = solid[i].top_m,
                      .mesh = solid[i].triangle_m ? &solid[i] : NULL,
                      .machine = machine};
        if (!add_obstacle(b, o)) return false;
    }
    return true;
}

static double lowest_focus_m(const gradin_model *m) {
    double lowest_m = 0.0;
    for (int i = 0; i < m->n_focus; i++)
        lowest_m = fmin(lowest_m, gradin_focus_lowest_m(&m->focus[i]));
    return lowest_m;
}

static bool add_section(builder *b, int index) {
    const gradin_lift_section *s = &b->v->section[index];
    const gradin_setting *set = section_set(b, index);
    const gradin_lift_grid *grid = &b->v->grid[s->grid];
    for (int tread = 0; tread < set->n_step; tread++) {
        double top_m = set->position + tread * set->riser_m;
        /* Treads at or below everything that is looked at hide nothing. */
        if (top_m <= lowest_focus_m(b->model)) continue;
        gradin_vec2 *corner_m = alloc(b->c, 4, sizeof *corner_m);
        if (!corner_m) return false;
        gradin_tread_corners(s, set, tread, corner_m);
        obstacle o = {.name = s->name,
                      .cause = GRADIN_CAUSE_STRUCTURE,
                      .polygon = {corner_m, 4},
                      .bottom_m = fmin(grid->travel_m[0], set->position - 0.1),
                      .top_m = top_m,
                      .machine = b->v->n_tower + index};
        if (!add_obstacle(b, o)) return false;
    }
    return true;
}

enum { N_ARCH_PART = 4 };

typedef struct arch_part {
    const char *suffix;
    double from_m, to_m; /* along the line */
    double bottom_m, top_m;
} arch_part;

static bool add_arch_part(builder *b, const arch_part *part, gradin_solid *solid) {
    const gradin_arch *a = b->v->arch;
    double dx = a->line_m[1].x - a->line_m[0].x, dy = a->line_m[1].y - a->line_m[0].y;
    double length_m = hypot(dx, dy), middle_m = (part->from_m + part->to_m) / 2.0 / length_m;
    gradin_vec2 centre_m = {a->line_m[0].x + dx * middle_m, a->line_m[0].y + dy * middle_m};
    *solid = (gradin_solid){.name = print_text(b->c, "%s %s", a->name, part->suffix),
                            .kind = GRADIN_SOLID_ARCH,
                            .polygon = make_rectangle(b->c, centre_m, gradin_bearing_deg(dx, dy),
                                                      part->to_m - part->from_m, a->thickness_m),
                            .bottom_m = part->bottom_m,
                            .top_m = part->top_m,
                            .sheet = -1};
    return solid->name && solid->polygon.corner_m;
}

/* Two side panels from the walls to the opening, the header from the trim to the ceiling, and what
 * comes down from the header. */
static bool make_arch(builder *b, gradin_solid part[N_ARCH_PART], int *n) {
    const gradin_arch *a = b->v->arch;
    double length_m = hypot(a->line_m[1].x - a->line_m[0].x, a->line_m[1].y - a->line_m[0].y);
    double side_m = (length_m - arch_set(b, GRADIN_MACHINE_OPENING)) / 2.0,
           ceiling_m = b->v->ceiling_m;
    double trim_m = arch_set(b, GRADIN_MACHINE_TRIM);
    double closed = arch_set(b, GRADIN_MACHINE_CURTAIN);
    const arch_part parts[N_ARCH_PART] = {
        {"left panel", 0.0, side_m, 0.0, ceiling_m},
        {"right panel", length_m - side_m, length_m, 0.0, ceiling_m},
        {"header", side_m, length_m - side_m, trim_m, ceiling_m},
        {a->closing_name, side_m, length_m - side_m, trim_m * (1.0 - closed), trim_m}};
    for (int i = 0; i < N_ARCH_PART; i++) {
        if (parts[i].to_m - parts[i].from_m < 1e-6 || parts[i].bottom_m >= parts[i].top_m) continue;
        if (!add_arch_part(b, &parts[i], &part[(*n)++])) return false;
    }
    return true;
}

static bool is_parked_overhead(const builder *b, const deck *d) {
    return !b->p->is_seated[d->tower] && tower_hoist_m(b, d->tower) > 0.0;
}

static gradin_solid deck_solid(builder *b, const deck *d) {
    const gradin_tower *t = &b->v->tower[d->tower];
    gradin_vec2 unit = gradin_bearing_unit(d->facing_deg);
    gradin_vec2 centre_m = {d->front_m.x - unit.x * t->depth_m / 2.0,
                            d->front_m.y - unit.y * t->depth_m / 2.0};
    return (gradin_solid){.name = d->name,
                          .kind = GRADIN_SOLID_SLAB,
                          .polygon =
                              make_rectangle(b->c, centre_m, d->facing_deg, t->depth_m, t->width_m),
                          .bottom_m = d->deck_m - t->level[d->level].thickness_m,
                          .top_m = d->deck_m,
                          .sheet = d->sheet,
                          .is_of_tower = true};
}

static int copy_solids(gradin_solid *out, const gradin_solid *from, int n) {
    for (int i = 0; i < n; i++) {
        out[i] = from[i];
        out[i].sheet = -1;
    }
    return n;
}

bool build_obstacles(builder *b) {
    gradin_solid arch_solid[N_ARCH_PART];
    int n_arch = 0, n_fixed = b->v->n_solid + b->p->n_solid;
    if (b->v->arch && b->p->is_arch_in && !make_arch(b, arch_solid, &n_arch)) return false;
    gradin_solid *solid = alloc(b->c, n_fixed + n_arch + b->n_deck, sizeof *solid);
    if (!solid) return false;
    int n = copy_solids(solid, b->v->solid, b->v->n_solid);
    n += copy_solids(solid + n, b->p->solid, b->p->n_solid);
    n += copy_solids(solid + n, arch_solid, n_arch);
    if (!add_solids(b, solid, n_fixed, -1) || !add_solids(b, solid + n_fixed, n_arch, -2))
        return false;
    for (int i = 0; i < b->v->n_section; i++)
        if (!add_section(b, i)) return false;
    for (int i = 0; i < b->n_deck; i++) {
        if (is_parked_overhead(b, &b->deck[i])) continue;
        solid[n++] = deck_solid(b, &b->deck[i]);
    }
    b->solid = solid;
    b->model->solid = solid;
    b->n_solid = b->model->n_solid = n;
    return b->c->failed == GRADIN_OK;
}

void build_solid_sheets(builder *b) {
    for (int i = 0; i < b->n_solid; i++)
        for (int k = 0; k < b->n_deck; k++)
            if (b->solid[i].name == b->deck[k].name) b->solid[i].sheet = b->deck[k].sheet;
}
