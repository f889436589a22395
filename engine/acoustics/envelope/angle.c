/* What an element lets through by the angle of the wave that meets it.
 *
 * Of a plane wave of intensity I the closed part passes I S q(theta), q of glazing/oblique.c: the
 * predicted shape at the pane's size, scaled so that its diffuse mean, int 2 q sin(theta) dtheta,
 * is the tau in use, measured or predicted. So no pane falls below what its size passes at grazing,
 * and the mean over a hemisphere is half of S tau: the flat -3 dB of ISO 12354-3, equation (12) of
 * EN 12354-3:2000. A vent and a seal are small against the wave: the wall doubles the pressure at
 * any angle, and they pass that half at each. An open door passes S cos theta, and no less than a
 * quarter, as diffraction at its edges leaves (a choice of ours). Between panes the edges throw
 * sound back and forth, so that part of it meets the inner pane at every angle, which no plane-wave
 * theory has: mixed_share of what a build-up with a gap passes is taken alike at all angles (a
 * choice of ours, on the safe side: near normal incidence the shape falls by up to 20 dB). Walls
 * and roofs move in fields of their own: their shape is that of a field of at most most_field_m. */
#include "acoustics/envelope/element.h"
#include "acoustics/glazing/tmm.h"

static const double most_field_m = 5.0;
static const double least_open = 0.25, half = 0.5, mixed_share = 0.2;

static double angle_at(int i) {
    return 0.5 * GRADIN_PI * i / (GRADIN_N_OBLIQUE - 1);
}

void gradin_angle_field_m(const gradin_element *element, double size_m[2]) {
    double most_m = gradin_element_is_opaque(element) ? most_field_m : INFINITY;
    size_m[0] = fmin(element->width_m, most_m);
    size_m[1] = fmin(element->height_m, most_m);
}

static bool has_gap(const gradin_buildup *buildup) {
    for (int i = 0; buildup->layer && i < buildup->n_layer; i++)
        if (buildup->layer[i].kind == GRADIN_LAYER_GAP) return true;
    return false;
}

gradin_status gradin_angle_make(const gradin_buildup *buildup, const double size_m[2],
                                gradin_by_angle *by, gradin_error *error) {
    gradin_oblique oblique;
    double mixed = has_gap(buildup) ? mixed_share : 0.0;
    gradin_status status = gradin_oblique_shape(buildup, size_m[0], size_m[1], &oblique, error);
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++)
        for (int i = 0; i < GRADIN_N_OBLIQUE; i++)
            by->closed[b][i] = (1.0 - mixed) * oblique.passed[b][i] + mixed * half;
    return status;
}

static double at_node(const gradin_glass *glass, gradin_part_kind kind, int band, int node) {
    if (kind == GRADIN_PART_BODY)
        return glass->by_angle ? glass->by_angle->closed[band][node] : half;
    if (kind == GRADIN_PART_OPENING) return fmax(cos(angle_at(node)), least_open);
    return half;
}

double gradin_angle_place(double angle_rad, int *node) {
    double at = fmin(fmax(angle_rad, 0.0) / (0.5 * GRADIN_PI), 1.0) * (GRADIN_N_OBLIQUE - 1);
    *node = (int)fmin(at, GRADIN_N_OBLIQUE - 2);
    return at - *node;
}

double gradin_angle_share(const gradin_glass *glass, gradin_part_kind kind, int band,
                          double angle_rad) {
    int node;
    double part = gradin_angle_place(angle_rad, &node), low = at_node(glass, kind, band, node);
    return low + part * (at_node(glass, kind, band, node + 1) - low);
}

void gradin_element_passed_m2(const gradin_model *model, const gradin_element *element,
                              const gradin_glass *glass, gradin_shade_state state,
                              double passed_m2[GRADIN_N_BAND][GRADIN_N_OBLIQUE]) {
    double tau_m2[GRADIN_N_PART_KIND][GRADIN_N_BAND];
    gradin_element_parts_m2(model, element, glass, state, tau_m2);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        for (int i = 0; i < GRADIN_N_OBLIQUE; i++) {
            passed_m2[b][i] = 0.0;
            for (int kind = 0; kind < GRADIN_N_PART_KIND; kind++)
                passed_m2[b][i] += tau_m2[kind][b] * at_node(glass, (gradin_part_kind)kind, b, i);
        }
}
