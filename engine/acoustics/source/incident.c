/* Sound of a point source in free field, and the wave that meets an element of the envelope.
 *
 * Spherical spreading from the reference distance, ISO 9613-1 attenuation at exact mid-bands over
 * the difference of the two paths. The level is that of the incident wave alone: the facade's own
 * reflection (up to 6 dB outside) is in what the element lets through by angle (envelope/angle.c).
 * An element turned away hears what bends over the top edge of its own wall and runs along it: D_z
 * = 10 lg(3 + 20 z/lambda), at most 20 dB (ISO 9613-2, eq. (14) with C2 = 20, one edge and no
 * correction for weather; from memory), at grazing incidence. A wave that is lit but nearly grazing
 * comes out of that half shadow as the edge leaves its Fresnel zone: full where a source over the
 * edge has z = 0.1 lambda, in between by the square of cos theta, so that the power is continuous
 * as the source crosses the plane of the wall. Where the plan turns inwards, a bay that faces the
 * source may stand behind another wing: the straight way is tried against the building as one body
 * by the code that hides stages from seats, and D_z of the detour over the roof's edge above its
 * entry comes off. Other buildings do not shield. What the ground adds: ground.c. */
#include "acoustics/source/source.h"

static const double least_distance_m = 1.0;
static const double clear_wave = 0.2; /* twice the wavelengths of detour at which a way is clear */
static const double largest_dz = 100.0;                /* 20 dB */
static const double off_wall_m = 0.05, deep_m = 100.0; /* the body stands below any site */

gradin_source gradin_source_make(const gradin_traffic *traffic, const gradin_class *of) {
    gradin_source source = {.reference_m = of->reference_m, .directivity = of->directivity};
    double speed_ms = gradin_air_speed_ms(traffic->temperature_c);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double mid_hz = gradin_band_mid_hz(b);
        double alpha_dbm = gradin_air_absorption_dbm(mid_hz, traffic->temperature_c,
                                                     traffic->humidity_pct, traffic->pressure_kpa);
        source.power[b] = pow(10.0, 0.1 * of->level_db[b]);
        source.absorption_1m[b] = alpha_dbm * log(10.0) / 10.0;
        source.wavelength_m[b] = speed_ms / mid_hz;
        source.mean[b] = 1.0;
    }
    for (int i = 0; source.directivity.is_mean_level && i < source.directivity.n_lobe; i++) {
        const gradin_lobe *lobe = &source.directivity.lobe[i];
        for (int k = 0; k < lobe->n_band; k++)
            source.mean[lobe->first_band + k] = gradin_directivity_mean(lobe);
    }
    return source;
}

void gradin_source_free_field(const gradin_source *source, double distance_m, double *square) {
    double r_m = fmax(distance_m, least_distance_m), ratio = source->reference_m / r_m;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        square[b] = source->power[b] * ratio * ratio *
                    exp(-source->absorption_1m[b] * (r_m - source->reference_m));
}

gradin_vec3 gradin_element_centre_m(const gradin_element *element) {
    return gradin_element_point_m(element, 0.5 * element->width_m, 0.5 * element->height_m);
}

double gradin_edge_m(const gradin_element *element, gradin_vec3 centre_m) {
    return gradin_element_is_overhead(element) ? 0.5 * fmin(element->width_m, element->height_m)
                                               : element->wall_top_m - centre_m.z;
}

/* Detour over the level top edge of the wall, by unfolding the two legs into one plane; of what
 * lies overhead, over its own nearest side, as if that were the eaves. */
static double detour_m(const gradin_element *element, gradin_vec3 centre_m, gradin_vec3 source_m) {
    gradin_vec3 way = gradin_sub(source_m, centre_m);
    gradin_frame f = gradin_element_frame(element);
    double out_m = gradin_dot(way, f.outward), up_m = gradin_dot(way, f.up);
    double along_m = gradin_dot(way, f.along);
    double rise_m = fmax(gradin_edge_m(element, centre_m), 0.0);
    if (gradin_element_is_overhead(element)) {
        up_m = hypot(up_m, along_m);
        along_m = 0.0;
    }
    double over_m = hypot(out_m, up_m - rise_m) + rise_m;
    return fmax(hypot(over_m, along_m) - gradin_norm(way), 0.0);
}

bool gradin_building_make(const gradin_model *model, gradin_shape *building) {
    double top_m = model->ceiling_m;
    if (gradin_polygon_is_convex(model->footprint)) return false;
    for (int e = 0; e < model->n_element; e++) top_m = fmax(top_m, model->element[e].wall_top_m);
    *building = gradin_prism(model->footprint, -deep_m, top_m);
    return true;
}

/* Detour over the wing that stands in the way; negative when none does. */
double gradin_over_wing_m(const gradin_shape *building, const gradin_element *element,
                          gradin_vec3 centre_m, gradin_vec3 source_m) {
    double share;
    gradin_vec3 off = gradin_scale(gradin_element_frame(element).outward, off_wall_m);
    gradin_vec3 from_m = gradin_add(centre_m, off), way = gradin_sub(source_m, from_m);
    if (!gradin_shape_hit(building, from_m, source_m, &share)) return -1.0;
    gradin_vec3 edge_m = gradin_add(from_m, gradin_scale(way, share));
    edge_m.z = fmax(edge_m.z, building->as.prism.top_m);
    return gradin_norm(gradin_sub(edge_m, from_m)) + gradin_norm(gradin_sub(source_m, edge_m)) -
           gradin_norm(way);
}

double gradin_energy_behind(double detour_m, double wavelength_m) {
    return 1.0 / fmin(3.0 + 20.0 * detour_m / wavelength_m, largest_dz); /* ISO 9613-2, (14) */
}

double gradin_out_of_half_shadow(double lit, double edge_m, double wavelength_m) {
    double clear_m = lit > 0.0 ? lit * lit * fmax(edge_m, 0.0) : 0.0;
    return fmin(clear_m / (clear_wave * wavelength_m), 1.0);
}

void gradin_source_incident(const gradin_source *source, gradin_vec3 source_m,
                            const gradin_element *element, double *intensity, double *angle_rad) {
    gradin_vec3 centre_m = gradin_element_centre_m(element);
    gradin_vec3 way = gradin_sub(source_m, centre_m);
    double distance_m = fmax(gradin_norm(way), least_distance_m);
    double lit = gradin_dot(way, gradin_element_frame(element).outward) / distance_m;
    double z_m = detour_m(element, centre_m, source_m), wing_m = -1.0;
    double edge_m = gradin_edge_m(element, centre_m);
    gradin_source_free_field(source, distance_m, intensity);
    gradin_source_turn(source, gradin_scale(way, -1.0), intensity);
    if (source->building && lit > 0.0)
        wing_m = gradin_over_wing_m(source->building, element, centre_m, source_m);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double wave_m = source->wavelength_m[b], bent = gradin_energy_behind(z_m, wave_m);
        double straight = bent + (1.0 - bent) * gradin_out_of_half_shadow(lit, edge_m, wave_m);
        if (wing_m >= 0.0) straight *= gradin_energy_behind(wing_m, wave_m);
        intensity[b] *= fmax(straight, bent);
    }
    *angle_rad = acos(fmin(fmax(lit, 0.0), 1.0));
}
