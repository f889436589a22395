/* What the ground before the facade adds.
 *
 * Image source below the ground, which is level with the main floor; energies add, as band levels
 * over a whole pane and a moving source come to. Hard ground sends all back. Soft ground is grass:
 * plane-wave reflection Q = (Z s - 1)/(Z s + 1), s the sine of the grazing angle, with the
 * impedance of M. E. Delany, E. N. Bazley, Applied Acoustics 3 (1970) 105, (1) Z = 1 + 9.08 (1000
 * f/sigma)^-0.75
 * + i 11.9 (1000 f/sigma)^-0.73 (from memory), sigma 200 kPa s/m2 (reference/ground, class D). On
 * an upright wall the reflected wave of a far source has the angle of the straight one; elsewhere
 * it counts by the ratio of the cosines. The wall's edge and the wings shade it like the straight
 * wave, seen from the element's image below the ground; what bends over the edge gets none, since
 * D_z stands for the ground, too (ISO 9613-2, (13): A_bar = D_z - A_gr; from memory). Limits: open
 * ground up to the wall as far as a source some way up needs, no other building, no interference of
 * the two waves: within a wavelength of the ground low bands may be 3 dB louder. */
#include "acoustics/source/source.h"

#include <complex.h>

static const double soft_pasm2 = 200e3;

double gradin_ground_energy(gradin_ground ground, int band, double rise) {
    if (ground == GRADIN_GROUND_NONE) return 0.0;
    if (ground == GRADIN_GROUND_HARD) return 1.0;
    double x = 1000.0 * gradin_band_mid_hz(band) / soft_pasm2;
    double complex z = 1.0 + 9.08 * pow(x, -0.75) + I * 11.9 * pow(x, -0.73); /* (1) */
    double size = cabs((z * rise - 1.0) / (z * rise + 1.0));
    return size * size;
}

/* Of the wave that ground sends on, what edges and wings leave: from the element's image. */
static double unshaded(const gradin_source *source, const gradin_element *element,
                       gradin_vec3 below_m, gradin_vec3 source_m, double lit, int band) {
    double wave_m = source->wavelength_m[band], wing_m = -1.0;
    double share = gradin_out_of_half_shadow(lit, gradin_edge_m(element, below_m), wave_m);
    if (source->building) wing_m = gradin_over_wing_m(source->building, element, below_m, source_m);
    return wing_m >= 0.0 ? share * gradin_energy_behind(wing_m, wave_m) : share;
}

void gradin_source_reflect(const gradin_source *source, gradin_ground ground, gradin_vec3 source_m,
                           const gradin_element *element, double *intensity) {
    if (ground == GRADIN_GROUND_NONE || gradin_element_is_overhead(element) || source_m.z <= 0.0)
        return;
    gradin_vec3 centre_m = gradin_element_centre_m(element), below_m = centre_m;
    gradin_vec3 outward = gradin_element_frame(element).outward;
    below_m.z = -centre_m.z;
    gradin_vec3 straight = gradin_sub(source_m, centre_m), way = gradin_sub(source_m, below_m);
    gradin_vec3 meets = {way.x, way.y, -way.z};
    double lit = gradin_dot(straight, outward) / gradin_norm(straight);
    double image_lit = gradin_dot(meets, outward) / gradin_norm(way), square[GRADIN_N_BAND];
    if (centre_m.z < 0.0 || !(lit > 0.0) || !(image_lit > 0.0)) return;
    gradin_source_free_field(source, gradin_norm(way), square);
    gradin_source_turn(source, gradin_scale(way, -1.0), square);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        intensity[b] += square[b] * gradin_ground_energy(ground, b, way.z / gradin_norm(way)) *
                        unshaded(source, element, below_m, source_m, image_lit, b) *
                        fmin(image_lit / lit, 1.0);
}
