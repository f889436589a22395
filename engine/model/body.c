/* A seated person as others see one: head, neck, shoulders. The head is an ellipsoid whose crown is
 * crown_m above the eye. The eye is at its front: the head's middle lies behind the eye by
 * EYE_TO_MIDDLE of the half length (from memory). Without the neck rays would slip under the chin.
 */
#include "gradin/model.h"

static const double EYE_TO_MIDDLE = 0.8;
static const double SHOULDER_RADIUS_M = 0.07; /* from memory */
static const double NECK_RADIUS_M = 0.06;     /* from memory */

void gradin_body_shapes(const gradin_audience *person, gradin_vec3 eye_m, double facing_deg,
                        gradin_shape shape[GRADIN_N_BODY]) {
    if (!person || !shape) return;
    gradin_vec2 ahead = gradin_bearing_unit(facing_deg);
    gradin_vec2 right = gradin_bearing_unit(facing_deg + 90.0);
    double back_m = EYE_TO_MIDDLE * person->head_length_m / 2.0;
    double half_m = fmax(person->shoulder_breadth_m / 2.0 - SHOULDER_RADIUS_M, 0.0);
    gradin_vec3 head_m = {eye_m.x - ahead.x * back_m, eye_m.y - ahead.y * back_m,
                          eye_m.z + person->crown_m - person->head_height_m / 2.0};
    gradin_vec3 neck_m = {head_m.x, head_m.y,
                          eye_m.z - person->shoulder_drop_m - SHOULDER_RADIUS_M};
    gradin_vec3 a_m = {neck_m.x - right.x * half_m, neck_m.y - right.y * half_m, neck_m.z};
    gradin_vec3 b_m = {neck_m.x + right.x * half_m, neck_m.y + right.y * half_m, neck_m.z};
    shape[0] = gradin_ellipsoid(head_m, facing_deg, person->head_length_m / 2.0,
                                person->head_breadth_m / 2.0, person->head_height_m / 2.0);
    shape[1] = gradin_capsule(head_m, neck_m, NECK_RADIUS_M);
    shape[2] = gradin_capsule(a_m, b_m, SHOULDER_RADIUS_M);
}
