/* The picture's eye: a plane picture before the eye, or a panorama on a cylinder about the upright
 * through it (elementary geometry). A plane picture looks at the middle of the focus, so uprights
 * lean where that lies far below; a panorama looks there on plan, its middle lowered. */
#include "sightline/view/view.h"

static const double steepest_deg = 80.0; /* a plane picture's middle */

static gradin_vec3 middle_of(const gradin_model *model) {
    gradin_vec3 sum = {0.0, 0.0, 0.0};
    double weight = 0.0;
    for (int a = 0; a < model->n_focus; a++) {
        sum = gradin_add(
            sum, gradin_scale(gradin_focus_middle_m(&model->focus[a]), model->focus[a].weight));
        weight += model->focus[a].weight;
    }
    return gradin_scale(sum, 1.0 / weight);
}

static void face(gradin_view *v, double bearing_deg, double pitch_deg) {
    gradin_vec2 level = gradin_bearing_unit(bearing_deg);
    double c = cos(gradin_rad(pitch_deg)), s = sin(gradin_rad(pitch_deg));
    v->ahead = (gradin_vec3){c * level.x, c * level.y, s};
    v->right = (gradin_vec3){level.y, -level.x, 0.0};
    v->up = gradin_cross(v->right, v->ahead);
}

void view_aim(const gradin_model *model, const gradin_view_options *options, gradin_view *v) {
    gradin_vec3 way = gradin_sub(middle_of(model), v->eye_m);
    double bearing_deg = gradin_bearing_deg(way.x, way.y);
    double pitch_deg = gradin_deg(atan2(way.z, hypot(way.x, way.y)));
    v->is_panorama = options->is_panorama;
    v->fov_deg = options->fov_deg > 0.0 ? options->fov_deg : v->is_panorama ? 180.0 : 70.0;
    v->width_px = options->width_px > 0 ? options->width_px : 1280;
    v->height_px = options->height_px > 0 ? options->height_px : 800;
    pitch_deg = fmin(fmax(pitch_deg, -steepest_deg), steepest_deg);
    v->distance_m = gradin_norm(way);
    v->down_deg = -pitch_deg;
    v->turn_deg = gradin_wrap_360_deg(bearing_deg - model->seats.facing_deg[v->seat] + 180.0) - 180;
    face(v, bearing_deg, v->is_panorama ? 0.0 : pitch_deg);
    v->shift = v->is_panorama ? tan(gradin_rad(pitch_deg)) : 0.0;
    v->step = v->is_panorama ? gradin_rad(v->fov_deg) / v->width_px
                             : 2.0 * tan(gradin_rad(v->fov_deg / 2.0)) / v->width_px;
}

double view_solid_sr(const gradin_view *v, double x_px, double y_px) {
    double x = v->is_panorama ? 0.0 : (x_px - 0.5 * v->width_px) * v->step;
    double y = (0.5 * v->height_px - y_px) * v->step + v->shift, far2 = 1.0 + x * x + y * y;
    return v->step * v->step / (far2 * sqrt(far2));
}

/* Of a panorama the plane that touches the cylinder at the block's middle. */
void view_corners(const gradin_view *v, view_block b, gradin_vec3 way[4]) {
    double left = (b.x - 0.5 * v->width_px) * v->step;
    double right = (b.x_end - 0.5 * v->width_px) * v->step;
    double top = (0.5 * v->height_px - b.y) * v->step + v->shift;
    double bottom = (0.5 * v->height_px - b.y_end) * v->step + v->shift;
    gradin_vec3 ahead = v->ahead, aside = v->right;
    if (v->is_panorama) {
        double middle = 0.5 * (left + right), half = 0.5 * (right - left);
        double c = cos(middle), s = sin(middle);
        ahead = gradin_add(gradin_scale(v->ahead, c), gradin_scale(v->right, s));
        aside = gradin_sub(gradin_scale(v->right, c), gradin_scale(v->ahead, s));
        right = tan(half);
        left = -right;
        top = fmax(top, top / cos(half));
        bottom = fmin(bottom, bottom / cos(half));
    }
    const double at[4][2] = {{left, top}, {right, top}, {right, bottom}, {left, bottom}};
    for (int k = 0; k < 4; k++)
        way[k] = gradin_add(
            ahead, gradin_add(gradin_scale(aside, at[k][0]), gradin_scale(v->up, at[k][1])));
}
