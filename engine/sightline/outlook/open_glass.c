/* Which parts of the envelope let see through: glazing and glazed doors where no shade is before
 * them, and doorways that stand open.
 *
 * A shade that is partly shut is taken to hang from the top (common practice, no source). A door is
 * glazed when its build-up states layers and all of them are glass, interlayers and gaps; the share
 * of its width by which it stands open begins at its first end, as that share of its area lets
 * sound through. What glass itself does to the view (obscured, tinted, reflecting) no file states.
 */
#include "sightline/outlook/outlook.h"

static bool is_glass(const gradin_layer *layer) {
    return layer->kind == GRADIN_LAYER_INTERLAYER || layer->kind == GRADIN_LAYER_GAP ||
           (layer->kind == GRADIN_LAYER_PLATE && layer->density_kgm3 == GRADIN_GLASS_DENSITY_KGM3 &&
            layer->young_pa == GRADIN_GLASS_YOUNG_PA);
}

static bool is_glazed(const gradin_model *model, const gradin_element *e) {
    if (e->kind != GRADIN_ELEMENT_DOOR) return e->kind == GRADIN_ELEMENT_PANE;
    if (e->buildup < 0) return false;
    const gradin_buildup *b = &model->buildup[e->buildup];
    for (int i = 0; i < b->n_layer; i++)
        if (!is_glass(&b->layer[i])) return false;
    return b->n_layer > 0;
}

static double open_share(const gradin_element *e) {
    return e->kind == GRADIN_ELEMENT_DOOR ? fmin(fmax(e->open, 0.0), 1.0) : 0.0;
}

static double up_share(const gradin_model *model, const gradin_element *e, bool are_shades_up) {
    if (are_shades_up || e->shade < 0) return 1.0;
    return 1.0 - fmin(fmax(model->shade[e->shade].closed, 0.0), 1.0);
}

static void add_hole(outlook_glass *glass, const gradin_element *e, double from_m, double to_m,
                     double top_m) {
    double m2 = (to_m - from_m) * top_m;
    if (!(m2 > 0.0)) return;
    glass->hole[glass->n_hole++] = (outlook_hole){e, {from_m, to_m}, {0.0, top_m}};
    glass->open_m2 += m2;
}

static void add_element(outlook_glass *glass, const gradin_model *model, const gradin_element *e,
                        bool are_shades_up) {
    double way_m = e->width_m * open_share(e);
    bool has_glass = is_glazed(model, e);
    add_hole(glass, e, 0.0, way_m, e->height_m);
    if (has_glass)
        add_hole(glass, e, way_m, e->width_m, e->height_m * up_share(model, e, are_shades_up));
    glass->glass_m2 += (has_glass ? e->width_m : way_m) * e->height_m;
    glass->n_leaning += has_glass && e->tilt_deg > 0.0 && e->tilt_deg < 90.0;
}

bool outlook_open_glass(gradin_arena *arena, const gradin_model *model, bool are_shades_up,
                        outlook_glass *glass) {
    *glass = (outlook_glass){0};
    glass->hole = gradin_arena_alloc(arena, 2 * (size_t)model->n_element, sizeof *glass->hole);
    if (!glass->hole) return false;
    for (int i = 0; i < model->n_element; i++)
        add_element(glass, model, &model->element[i], are_shades_up);
    return true;
}

gradin_vec3 outlook_hole_point_m(const outlook_hole *hole, double along, double up) {
    return gradin_element_point_m(hole->element,
                                  hole->along_m[0] + along * (hole->along_m[1] - hole->along_m[0]),
                                  hole->up_m[0] + up * (hole->up_m[1] - hole->up_m[0]));
}
