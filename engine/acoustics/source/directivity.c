/* Directivity of a source: dB on top of its stated level over the angle between its direction of
 * travel (in space) and the way to the listener, linear in dB between the table's angles and the
 * same all round. The stated level holds at the reference distance in every direction whose table
 * says 0 dB. With is_mean_level it is that of a source of the same power that radiates evenly
 * (sound power less 11 dB at 1 m): the table is then divided by its own energy mean over the
 * sphere, (1) 1/2 int 10^(g/10) sin(theta) dtheta, in closed form between two angles. The angle is
 * that of the moment at which the sound is heard; its travelling time is left out. */
#include "acoustics/source/source.h"

static const double energy_per_db = 0.23025850929940457; /* ln(10)/10 */

static double gain_db(const gradin_lobe *lobe, double angle_deg) {
    int i = 0;
    while (i + 2 < lobe->n_angle && lobe->angle_deg[i + 1] < angle_deg) i++;
    double share = (angle_deg - lobe->angle_deg[i]) / (lobe->angle_deg[i + 1] - lobe->angle_deg[i]);
    return lobe->gain_db[i] + share * (lobe->gain_db[i + 1] - lobe->gain_db[i]);
}

double gradin_directivity_mean(const gradin_lobe *lobe) {
    double sum = 0.0;
    for (int i = 0; i + 1 < lobe->n_angle; i++) {
        double from = gradin_rad(lobe->angle_deg[i]), to = gradin_rad(lobe->angle_deg[i + 1]);
        double b = energy_per_db * (lobe->gain_db[i + 1] - lobe->gain_db[i]) / (to - from);
        double at_from = exp(energy_per_db * lobe->gain_db[i]) * (b * sin(from) - cos(from));
        double at_to = exp(energy_per_db * lobe->gain_db[i + 1]) * (b * sin(to) - cos(to));
        sum += (at_to - at_from) / (b * b + 1.0);
    }
    return 0.5 * sum; /* (1) */
}

void gradin_source_turn(const gradin_source *source, gradin_vec3 way, double *square) {
    const gradin_directivity *d = &source->directivity;
    double size = gradin_norm(way);
    if (d->n_lobe == 0 || !(size > 0.0)) return;
    double cosine = fmin(fmax(gradin_dot(way, source->heading) / size, -1.0), 1.0);
    double angle_deg = fmin(gradin_deg(acos(cosine)), 180.0);
    for (int i = 0; i < d->n_lobe; i++) {
        const gradin_lobe *lobe = &d->lobe[i];
        double factor = exp(energy_per_db * gain_db(lobe, angle_deg));
        for (int k = 0; k < lobe->n_band; k++)
            square[lobe->first_band + k] *= factor / source->mean[lobe->first_band + k];
    }
}
