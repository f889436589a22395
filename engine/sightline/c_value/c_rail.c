/* The C-value over a rail: the ray to the point of focus against the top of every rail that it
 * crosses in the plane of view, by the formula of c_value.c with D and R at the rail's top. The
 * rail that leaves least is given; a rail under whose foot the ray passes is none to look over.
 * What the bars, panels and posts of a rail hide is the matter of the rays (occlusion.c). */
#include "sightline/c_value/c_seat.h"

static sight_over over_stretch(const sight_plane *plane, gradin_vec3 eye, const gradin_rail *rail,
                               int stretch) {
    gradin_vec3 a = rail->point_m[stretch], b = rail->point_m[stretch + 1];
    double ahead_m, share;
    if (!gradin_plan_cross((gradin_vec2){eye.x, eye.y}, plane->unit, a, b, &ahead_m, &share) ||
        ahead_m <= 0.0 || ahead_m >= plane->focus_ahead_m)
        return SIGHT_NO_OVER;
    double foot_m = a.z + share * (b.z - a.z);
    if (gradin_sight_ray_m(plane, eye, ahead_m) < foot_m) return SIGHT_NO_OVER;
    return gradin_sight_over(plane, eye, ahead_m, foot_m + rail->height_m);
}

sight_over gradin_sight_rail(const gradin_model *model, const sight_plane *plane, gradin_vec3 eye_m,
                             int *rail) {
    sight_over least = SIGHT_NO_OVER;
    *rail = -1;
    for (int i = 0; i < model->n_rail; i++)
        for (int k = 0; model->rail[i].has_top && k + 1 < model->rail[i].n_point; k++) {
            sight_over over = over_stretch(plane, eye_m, &model->rail[i], k);
            if (isnan(over.c_m) || (*rail >= 0 && over.c_m >= least.c_m)) continue;
            least = over;
            *rail = i;
        }
    return least;
}
