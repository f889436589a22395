/* What one event sends onto the facade and to the point outside.
 *
 * The source is worked out at each moment of the window round the point outside (moments.c,
 * outside.c); its free field, air, directivity and what shields an element are those of
 * source/incident.c. The adjustments of the traffic's method (source/adjust.c) act alike on the
 * point outside and on every element: the room is one listener to the ground they are about. The
 * ground before the facade, where the venue states it, adds to the elements and not to the point
 * outside (source/ground.c). */
#include "acoustics/event/incidence.h"

#include "acoustics/event/outside.h"
#include "acoustics/source/source.h"
#include "acoustics/transfer/transfer.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Doc 29, volume 2, 4.5.4: a straight piece of track has one lateral distance, from its ground
 * track, and one elevation, that of its closest point, both of the piece carried on at its ends. */
static double lateral_db(const gradin_incidence *i, int time) {
    gradin_vec3 way = gradin_sub(i->moments.source_m[time], i->outside_m);
    gradin_vec3 ahead = i->moments.heading[time];
    gradin_vec3 foot = gradin_sub(way, gradin_scale(ahead, gradin_dot(way, ahead)));
    double level = hypot(ahead.x, ahead.y), apart_m = gradin_norm(foot);
    double lateral_m =
        level > 0.0 ? fabs(way.x * ahead.y - way.y * ahead.x) / level : hypot(way.x, way.y);
    double elevation_deg = gradin_deg(acos(fmin(lateral_m / apart_m, 1.0)));
    return gradin_lateral_attenuation_db(lateral_m, foot.z < 0.0 ? -elevation_deg : elevation_deg);
}

/* Energy left by the adjustments at a moment. */
static double adjustment(const gradin_traffic *t, const gradin_incidence *i, int time) {
    double db = t->has_impedance ? gradin_impedance_db(t->temperature_c, t->pressure_kpa) : 0.0;
    if (t->has_lateral && i->moments.n > 1) db -= lateral_db(i, time);
    return pow(10.0, 0.1 * db);
}

static void fill_outside(gradin_incidence *i, const gradin_source *source, int time,
                         double factor) {
    double band[GRADIN_N_BAND];
    gradin_vec3 way = gradin_sub(i->outside_m, i->moments.source_m[time]);
    gradin_source_free_field(source, gradin_norm(way), band);
    gradin_source_turn(source, way, band);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        i->outside[b * i->moments.n + time] = band[b] * factor;
        i->outside_a[time] += gradin_a_energy(b) * band[b] * factor;
    }
}

static void fill_incident(gradin_incidence *i, const gradin_source *source,
                          const gradin_model *model, int time, double factor) {
    for (int e = 0; e < i->n_element; e++) {
        double incident[GRADIN_N_BAND];
        const gradin_element *element = &model->element[e];
        gradin_vec3 source_m = i->moments.source_m[time];
        double *angle_rad = &i->angle_rad[(size_t)e * (size_t)i->moments.n + (size_t)time];
        gradin_source_incident(source, source_m, element, incident, angle_rad);
        gradin_source_reflect(source, model->ground, source_m, element, incident);
        for (int b = 0; b < GRADIN_N_BAND; b++)
            i->incident[gradin_incidence_at(i, e, b, time)] = incident[b] * factor;
    }
}

static bool alloc(gradin_arena *arena, gradin_incidence *i) {
    size_t n_time = (size_t)i->moments.n, n_element = (size_t)i->n_element;
    i->outside = gradin_arena_alloc(arena, GRADIN_N_BAND * n_time, sizeof(double));
    i->outside_a = gradin_arena_alloc(arena, n_time, sizeof(double));
    i->incident = gradin_arena_alloc(arena, n_element * GRADIN_N_BAND * n_time, sizeof(double));
    i->angle_rad = gradin_arena_alloc(arena, n_element * n_time, sizeof(double));
    return i->outside && i->outside_a && i->incident && i->angle_rad;
}

gradin_status gradin_incidence_make(gradin_arena *arena, const gradin_model *model,
                                    const gradin_traffic *traffic, int class_index, int track,
                                    gradin_incidence *incidence, gradin_error *error) {
    gradin_incidence *i = incidence;
    *i = (gradin_incidence){.n_element = model->n_element,
                            .tau_s = gradin_weighting_s(traffic->weighting),
                            .outside_m = gradin_outside_m(model, &traffic->track[track])};
    gradin_status status =
        gradin_moments_make(arena, &traffic->track[track], i->outside_m, &i->moments, error);
    if (status != GRADIN_OK) return status;
    if (!alloc(arena, i)) return out_of_memory(error);
    i->steps = (gradin_steps){i->moments.n, i->moments.time_s, i->moments.length_s};
    gradin_source source = gradin_source_make(traffic, &traffic->class_of[class_index]);
    gradin_shape building;
    if (gradin_building_make(model, &building)) source.building = &building;
    for (int t = 0; t < i->moments.n; t++) {
        double factor = adjustment(traffic, i, t);
        source.heading = i->moments.heading[t];
        fill_outside(i, &source, t, factor);
        fill_incident(i, &source, model, t, factor);
    }
    return GRADIN_OK;
}
