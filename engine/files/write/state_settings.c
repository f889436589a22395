/* Where a layout puts the machines: only what is not parked; like neighbours in one entry. */
#include "files/write/state.h"

#include <string.h>

static const gradin_setting *setting_of(const gradin_venue *v, const gradin_layout *p,
                                        gradin_machine_kind kind, int item) {
    return &p->machine[gradin_machine_index(v, kind, item)].set;
}

static bool is_same(const gradin_setting *a, const gradin_setting *b) {
    return a->position == b->position && a->n_step == b->n_step &&
           (a->n_step == 1 || (a->riser_m == b->riser_m && a->facing_deg == b->facing_deg));
}

static bool is_parked(const gradin_venue *v, const gradin_layout *p, gradin_machine_kind kind,
                      int item) {
    int machine = gradin_machine_index(v, kind, item);
    return machine < 0 || is_same(&p->machine[machine].set, &v->machine[machine].setting);
}

stated_lift state_lift(const gradin_lift_setting *setting, stated_terrace *terrace) {
    const gradin_setting *set = &setting->set;
    stated_lift s = {.from = setting->from, .height_m = set->position};
    if (strcmp(setting->from, setting->to) != 0) s.to = setting->to;
    if (set->n_step == 1) return s;
    *terrace = (stated_terrace){
        .n_step = set->n_step, .riser_m = set->riser_m, .facing_deg = set->facing_deg};
    s.terrace = terrace;
    return s;
}

/* Sections of a grid that have been written already. */
typedef struct field {
    const gradin_venue *v;
    const gradin_layout *p;
    bool *is_done; /* [n_section] */
    int grid;
} field;

static bool goes_with(const field *f, int column, int row, const gradin_setting *set) {
    int section = gradin_section_index(f->v, f->grid, column, row);
    return section >= 0 && !f->is_done[section] &&
           is_same(setting_of(f->v, f->p, GRADIN_MACHINE_SECTION, section), set);
}

/* The last section of the widest, then highest rectangle of like sections from this one; marks
 * all of it. */
static int mark_rectangle(const field *f, int section, const gradin_setting *set) {
    const gradin_lift_section *s = &f->v->section[section];
    int c1 = s->column, r1 = s->row;
    while (goes_with(f, c1 + 1, s->row, set)) c1++;
    for (bool good = true; good;) {
        for (int c = s->column; c <= c1 && good; c++) good = goes_with(f, c, r1 + 1, set);
        r1 += good;
    }
    for (int r = s->row; r <= r1; r++)
        for (int c = s->column; c <= c1; c++)
            f->is_done[gradin_section_index(f->v, f->grid, c, r)] = true;
    return gradin_section_index(f->v, f->grid, c1, r1);
}

static void state_lifts(complaints *c, const gradin_venue *v, const gradin_layout *p,
                        stated_settings *s) {
    if (v->n_section == 0) return;
    stated_terrace *terrace = alloc(c, v->n_section, sizeof *terrace);
    bool *is_done = alloc(c, v->n_section, sizeof *is_done);
    s->lift = alloc(c, v->n_section, sizeof *s->lift);
    for (int i = 0; terrace && is_done && s->lift && i < v->n_section; i++) {
        if (is_done[i] || is_parked(v, p, GRADIN_MACHINE_SECTION, i)) continue;
        const field f = {v, p, is_done, v->section[i].grid};
        const gradin_setting *set = setting_of(v, p, GRADIN_MACHINE_SECTION, i);
        int last = mark_rectangle(&f, i, set);
        const gradin_lift_setting like = {v->section[i].name, v->section[last].name, *set};
        s->lift[s->n_lift] = state_lift(&like, &terrace[s->n_lift]);
        s->n_lift++;
    }
}

/* NAN where the tower faces what the venue states. */
static double facing_set(const gradin_venue *v, const gradin_layout *p, int tower) {
    if (is_parked(v, p, GRADIN_MACHINE_TURN, tower)) return NAN;
    return gradin_wrap_360_deg(v->tower[tower].facing_deg +
                               setting_of(v, p, GRADIN_MACHINE_TURN, tower)->position);
}

static void state_towers(complaints *c, const gradin_venue *v, const gradin_layout *p,
                         stated_settings *s) {
    s->tower = v->n_tower > 0 ? alloc(c, v->n_tower, sizeof *s->tower) : NULL;
    for (int i = 0; s->tower && i < v->n_tower; i++) {
        if (!p->is_seated[i] && is_parked(v, p, GRADIN_MACHINE_HOIST, i) &&
            is_parked(v, p, GRADIN_MACHINE_SLIDE, i) && is_parked(v, p, GRADIN_MACHINE_TURN, i))
            continue;
        s->tower[s->n_tower++] =
            (stated_tower_setting){.name = v->tower[i].name,
                                   .hoist_m = setting_of(v, p, GRADIN_MACHINE_HOIST, i)->position,
                                   .slide_m = setting_of(v, p, GRADIN_MACHINE_SLIDE, i)->position,
                                   .facing_deg = facing_set(v, p, i),
                                   .is_seated = p->is_seated[i]};
    }
}

static void state_arch(complaints *c, const gradin_venue *v, const gradin_layout *p,
                       stated_settings *s) {
    if (!v->arch || !p->is_arch_in) return;
    s->arch = alloc(c, 1, sizeof *s->arch);
    if (!s->arch) return;
    *s->arch =
        (stated_arch_setting){.is_in = true,
                              .opening_m = setting_of(v, p, GRADIN_MACHINE_OPENING, 0)->position,
                              .trim_m = setting_of(v, p, GRADIN_MACHINE_TRIM, 0)->position};
    if (v->arch->closing_name)
        s->arch->closed = setting_of(v, p, GRADIN_MACHINE_CURTAIN, 0)->position;
}

static void state_shades(complaints *c, const gradin_venue *v, const gradin_layout *p,
                         stated_settings *s) {
    s->shade = v->n_shade > 0 ? alloc(c, v->n_shade, sizeof *s->shade) : NULL;
    for (int i = 0; s->shade && i < v->n_shade; i++)
        if (!is_parked(v, p, GRADIN_MACHINE_SHADE, i))
            s->shade[s->n_shade++] =
                (stated_share){.name = v->shade[i].name,
                               .share = setting_of(v, p, GRADIN_MACHINE_SHADE, i)->position};
}

static void state_doors(complaints *c, const gradin_venue *v, const gradin_layout *p,
                        stated_settings *s) {
    s->door = v->n_facade > 0 ? alloc(c, v->n_facade, sizeof *s->door) : NULL;
    for (int i = 0; s->door && i < v->n_facade; i++)
        if (!is_parked(v, p, GRADIN_MACHINE_DOOR, i))
            s->door[s->n_door++] =
                (stated_share){.name = v->facade[i].name,
                               .share = setting_of(v, p, GRADIN_MACHINE_DOOR, i)->position};
}

static void state_panels(complaints *c, const gradin_venue *v, const gradin_layout *p,
                         stated_settings *s) {
    s->panel = v->n_panel > 0 ? alloc(c, v->n_panel, sizeof *s->panel) : NULL;
    for (int i = 0; s->panel && i < v->n_panel; i++)
        if (!is_parked(v, p, GRADIN_MACHINE_PANEL, i))
            s->panel[s->n_panel++] =
                (stated_panel_setting){.name = v->panel[i].name, .is_open = true};
}

stated_settings state_settings(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    stated_settings s = {.n_lift = 0};
    state_lifts(c, v, p, &s);
    state_towers(c, v, p, &s);
    state_arch(c, v, p, &s);
    state_shades(c, v, p, &s);
    state_doors(c, v, p, &s);
    state_panels(c, v, p, &s);
    return s;
}
