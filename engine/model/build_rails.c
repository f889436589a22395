/* Rails as occluders and for drawing: bars are capsules, panels boxes or, on a slope, sheared ones,
 * posts upright capsules. */
#include "model/build.h"

static const double LEVEL_M = 1e-6;

static bool add_bars(builder *b, const gradin_vec3 *foot_m, int n_point, const rail_form *form,
                     int name) {
    double radius_m = form->thickness_m / 2.0;
    for (int bar = 0; bar < form->n_bar; bar++) {
        double centre_m = (form->height_m - radius_m) * (form->n_bar - bar) / form->n_bar;
        for (int i = 0; i + 1 < n_point; i++) {
            gradin_vec3 a_m = foot_m[i], c_m = foot_m[i + 1];
            a_m.z += centre_m;
            c_m.z += centre_m;
            if (!add_occluder(b, gradin_capsule(a_m, c_m, radius_m), GRADIN_CAUSE_RAIL,
                              GRADIN_NO_OWNER, name))
                return false;
        }
    }
    return true;
}

/* A panel whose foot and top both follow the slope: its six faces, each of two triangles. */
static bool add_sloped(builder *b, gradin_vec3 a_m, gradin_vec3 c_m, const rail_form *form,
                       int name) {
    static const int face[6][4] = {{0, 1, 3, 2}, {4, 5, 7, 6}, {0, 1, 5, 4},
                                   {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}};
    double dx = c_m.x - a_m.x, dy = c_m.y - a_m.y;
    double aside = form->thickness_m / 2.0 / hypot(dx, dy);
    gradin_vec3 corner[8]; /* bit 0: side, bit 1: top, bit 2: end */
    for (int i = 0; i < 8; i++) {
        gradin_vec3 end = i & 4 ? c_m : a_m;
        double side = i & 1 ? aside : -aside;
        corner[i] = (gradin_vec3){end.x - dy * side, end.y + dx * side,
                                  end.z + (i & 2 ? form->height_m : 0.0)};
    }
    bool good = true;
    for (int i = 0; i < 12 && good; i++) {
        const int *f = face[i / 2];
        gradin_vec3 third = corner[i % 2 ? f[3] : f[1]];
        good = add_occluder(b, gradin_triangle(corner[f[0]], third, corner[f[2]]),
                            GRADIN_CAUSE_RAIL, GRADIN_NO_OWNER, name);
    }
    return good;
}

static bool add_panel(builder *b, gradin_vec3 a_m, gradin_vec3 c_m, const rail_form *form,
                      int name) {
    if (fabs(c_m.z - a_m.z) > LEVEL_M) return add_sloped(b, a_m, c_m, form, name);
    double dx = c_m.x - a_m.x, dy = c_m.y - a_m.y;
    gradin_vec3 centre_m = {(a_m.x + c_m.x) / 2.0, (a_m.y + c_m.y) / 2.0,
                            (a_m.z + c_m.z + form->height_m) / 2.0};
    gradin_shape box = gradin_box(centre_m, gradin_bearing_deg(dx, dy), hypot(dx, dy) / 2.0,
                                  form->thickness_m / 2.0, form->height_m / 2.0);
    return add_occluder(b, box, GRADIN_CAUSE_RAIL, GRADIN_NO_OWNER, name);
}

static bool add_post(builder *b, gradin_vec3 foot_m, const rail_form *form, int name) {
    gradin_vec3 head_m = foot_m;
    head_m.z += form->height_m - form->thickness_m / 2.0;
    return add_occluder(b, gradin_capsule(foot_m, head_m, form->thickness_m / 2.0),
                        GRADIN_CAUSE_RAIL, GRADIN_NO_OWNER, name);
}

/* Posts at both ends of each stretch and between them no farther apart than the spacing. */
static bool add_posts(builder *b, gradin_vec3 a_m, gradin_vec3 c_m, const rail_form *form,
                      int name) {
    double length_m = gradin_norm(gradin_sub(c_m, a_m));
    int n = (int)ceil(length_m / form->post_spacing_m - 1e-9);
    for (int i = 0; i <= n; i++) {
        double share = n > 0 ? (double)i / n : 0.0;
        gradin_vec3 foot_m = gradin_add(a_m, gradin_scale(gradin_sub(c_m, a_m), share));
        if (!add_post(b, foot_m, form, name)) return false;
    }
    return true;
}

static bool add_stretches(builder *b, const gradin_vec3 *foot_m, int n_point, const rail_form *form,
                          int name) {
    if (form->kind != GRADIN_RAIL_SOLID && form->kind != GRADIN_RAIL_POSTS &&
        !add_bars(b, foot_m, n_point, form, name))
        return false;
    for (int i = 0; i + 1 < n_point; i++) {
        bool good = form->kind == GRADIN_RAIL_SOLID
                        ? add_panel(b, foot_m[i], foot_m[i + 1], form, name)
                        : add_posts(b, foot_m[i], foot_m[i + 1], form, name);
        if (!good) return false;
    }
    return true;
}

bool build_rail(builder *b, const char *name, const gradin_vec3 *foot_m, int n_point,
                const rail_form *form, int sheet) {
    int index = add_occluder_name(b, name);
    gradin_rail drawn = {.name = name,
                         .point_m = foot_m,
                         .n_point = n_point,
                         .height_m = form->height_m,
                         .sheet = sheet,
                         .thickness_m = form->thickness_m,
                         .has_top = form->kind != GRADIN_RAIL_POSTS,
                         .kind = form->kind,
                         .n_bar = form->n_bar,
                         .post_spacing_m = form->post_spacing_m};
    return index >= 0 && add_rail(b, drawn) && add_stretches(b, foot_m, n_point, form, index);
}

static bool build_stated(builder *b, const gradin_rail_entry *rail) {
    gradin_vec3 *foot_m = alloc(b->c, rail->n_point, sizeof *foot_m);
    if (!foot_m) return false;
    for (int i = 0; i < rail->n_point; i++) {
        foot_m[i] = (gradin_vec3){rail->point_m[i].x, rail->point_m[i].y,
                                  rail_foot_m(b, rail, rail->point_m[i])};
    }
    rail_form form = {rail->kind, rail->height_m, rail->thickness_m, rail->post_spacing_m,
                      rail->n_bar};
    return build_rail(b, rail->name, foot_m, rail->n_point, &form, sheet_of_level(b, rail->level));
}

/* The rail at a deck's front edge. */
static bool build_deck_rail(builder *b, const deck *d) {
    const gradin_tower *t = &b->v->tower[d->tower];
    const gradin_tower_level *level = &t->level[d->level];
    if (level->rail_height_m <= 0.0 || !b->p->is_seated[d->tower]) return true;
    gradin_vec3 *foot_m = alloc(b->c, 2, sizeof *foot_m);
    const char *name = print_text(b->c, "%s rail", d->name);
    if (!foot_m || !name) return false;
    gradin_vec2 right = gradin_bearing_unit(d->facing_deg + 90.0);
    gradin_vec2 back = gradin_bearing_unit(d->facing_deg + 180.0);
    double inset_m = level->rail_thickness_m / 2.0;
    for (int i = 0; i < 2; i++) {
        double side_m = (i ? 0.5 : -0.5) * t->width_m;
        foot_m[i] = (gradin_vec3){d->front_m.x + right.x * side_m + back.x * inset_m,
                                  d->front_m.y + right.y * side_m + back.y * inset_m, d->deck_m};
    }
    rail_form form = {level->rail_kind, level->rail_height_m, level->rail_thickness_m, 1.5,
                      level->rail_bars};
    return build_rail(b, name, foot_m, 2, &form, d->sheet);
}

bool build_rails(builder *b) {
    for (int i = 0; i < b->p->n_rail; i++)
        if (!build_stated(b, &b->p->rail[i])) return false;
    for (int i = 0; i < b->n_deck; i++)
        if (!build_deck_rail(b, &b->deck[i])) return false;
    return true;
}
