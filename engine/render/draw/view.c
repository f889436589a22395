/* Fits the plan to the page: an A3 sheet of ISO 216, 297 mm by 420 mm. */
#include "render/draw/view.h"
#include "render/draw/canvas.h"

#define PAGE_HEIGHT (PAGE_WIDTH * 420.0 / 297.0)
#define LEAST_PLAN 400.0 /* page units; what is kept for more than that makes the page longer */
#define SEAT_PX 12.0     /* of the narrowest seat, to tell its colour and mark */
#define MAX_ZOOM 2.0

static void include_point(gradin_box2 *box, double x, double y) {
    box->x_min_m = fmin(box->x_min_m, x);
    box->y_min_m = fmin(box->y_min_m, y);
    box->x_max_m = fmax(box->x_max_m, x);
    box->y_max_m = fmax(box->y_max_m, y);
}

static void include_polygon(gradin_box2 *box, gradin_polygon polygon) {
    for (int i = 0; i < polygon.n_corner; i++)
        include_point(box, polygon.corner_m[i].x, polygon.corner_m[i].y);
}

static void include_focus(gradin_box2 *box, const gradin_focus *focus) {
    include_polygon(box, focus->polygon);
    include_polygon(box, (gradin_polygon){focus->line_m, focus->n_line});
    if (focus->kind == GRADIN_FOCUS_POINT) include_point(box, focus->point_m.x, focus->point_m.y);
}

static gradin_box2 extent_m(const gradin_model *model) {
    gradin_box2 box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    include_polygon(&box, model->footprint);
    for (int i = 0; i < model->n_floor; i++) include_polygon(&box, model->floor[i].polygon);
    for (int i = 0; i < model->n_solid; i++) include_polygon(&box, model->solid[i].polygon);
    for (int i = 0; i < model->n_focus; i++) include_focus(&box, &model->focus[i]);
    for (int i = 0; i < model->n_section; i++)
        include_polygon(&box, (gradin_polygon){model->section[i].corner_m, 4});
    for (int i = 0; i < model->seats.n_seat; i++)
        include_point(&box, model->seats.floor_m[i].x, model->seats.floor_m[i].y);
    return box;
}

static double zoom_for(const gradin_seats *seats, double unit_per_m) {
    double narrowest_m = INFINITY;
    for (int i = 0; i < seats->n_seat; i++) narrowest_m = fmin(narrowest_m, seats->width_m[i]);
    double wanted = SEAT_PX / (narrowest_m * unit_per_m);
    return fmin(fmax(ceil(wanted * 4.0) / 4.0, 1.0), MAX_ZOOM);
}

bool view_keeping(const gradin_model *model, double kept, view *out) {
    gradin_box2 box = extent_m(model);
    double width_m = box.x_max_m - box.x_min_m, depth_m = box.y_max_m - box.y_min_m;
    if (!(width_m > 0.0) || !(depth_m > 0.0) || !isfinite(width_m + depth_m)) return false;
    double free_width = PAGE_WIDTH - 2.0 * (PAGE_MARGIN + PLAN_BORDER);
    double below = SCALE_STRIP + LEGEND_HEIGHT + kept + FOOT_HEIGHT;
    double free_height = fmax(PAGE_HEIGHT - PLAN_TOP - 2.0 * PLAN_BORDER - below, LEAST_PLAN);
    double scale = fmin(free_width / width_m, free_height / depth_m);
    double left = 0.5 * (PAGE_WIDTH - scale * width_m);
    double top = PLAN_TOP + PLAN_BORDER + 0.5 * (free_height - scale * depth_m);
    *out = (view){.unit_per_m = scale, .zoom = zoom_for(&model->seats, scale)};
    out->origin = (gradin_vec2){left - scale * box.x_min_m, top + scale * box.y_max_m};
    out->room = (gradin_box2){left, top, left + scale * width_m, top + scale * depth_m};
    out->plan_bottom = PLAN_TOP + 2.0 * PLAN_BORDER + free_height;
    out->legend_top = out->plan_bottom + SCALE_STRIP;
    out->foot_top = out->legend_top + LEGEND_HEIGHT + kept;
    out->page_height = out->foot_top + FOOT_HEIGHT;
    return true;
}

bool view_of(const gradin_model *model, view *out) {
    return view_keeping(model, 0.0, out);
}

bool view_in_box(const gradin_model *model, gradin_box2 box, double border, view *out) {
    gradin_box2 hall = extent_m(model);
    double width_m = hall.x_max_m - hall.x_min_m, depth_m = hall.y_max_m - hall.y_min_m;
    double width = box.x_max_m - box.x_min_m, height = box.y_max_m - box.y_min_m;
    if (!(width_m > 0.0) || !(depth_m > 0.0) || !isfinite(width_m + depth_m)) return false;
    double scale = fmin((width - 2.0 * border) / width_m, (height - 2.0 * border) / depth_m);
    double left = box.x_min_m + 0.5 * (width - scale * width_m);
    double top = box.y_min_m + 0.5 * (height - scale * depth_m);
    *out = (view){.unit_per_m = scale, .zoom = 1.0, .plan_bottom = box.y_max_m};
    out->origin = (gradin_vec2){left - scale * hall.x_min_m, top + scale * hall.y_max_m};
    out->room = (gradin_box2){left, top, left + scale * width_m, top + scale * depth_m};
    return scale > 0.0;
}
