/* What is looked at, on the plan: floors as areas, uprights as lines, points as marks; their names
 * and heights; the stage's axis. */
#include "render/plan/plan.h"

#include <stdio.h>

#define NAME_REACH 26.0 /* off an upright or a point, page units */

static const colour mark_ink = {0.30, 0.27, 0.22};

static void draw_upright(const plan *p, const gradin_focus *focus) {
    for (int i = 0; i + 1 < focus->n_line; i++) {
        gradin_vec2 a = view_point(p->v, focus->line_m[i].x, focus->line_m[i].y);
        gradin_vec2 b = view_point(p->v, focus->line_m[i + 1].x, focus->line_m[i + 1].y);
        plan_upright_line(p->page, a, b);
        labels_take_line(p->grid, a, b, 6.0);
    }
}

void plan_draw_focus(const plan *p) {
    for (int i = 0; i < p->model->n_focus; i++) {
        const gradin_focus *focus = &p->model->focus[i];
        if (focus->kind != GRADIN_FOCUS_FLOOR) continue;
        plan_path(p, focus->polygon);
        plan_focus_path(p->page);
        plan_shun(p, focus->polygon);
    }
}

void plan_draw_marks(const plan *p) {
    for (int i = 0; i < p->model->n_focus; i++) {
        const gradin_focus *focus = &p->model->focus[i];
        if (focus->kind == GRADIN_FOCUS_UPRIGHT) draw_upright(p, focus);
        if (focus->kind == GRADIN_FOCUS_POINT) {
            gradin_vec2 at = view_point(p->v, focus->point_m.x, focus->point_m.y);
            plan_point_mark(p->page, at);
            labels_take(p->grid, at, 9.0, 9.0, 0.0);
        }
    }
}

/* The heaviest floor, on which the axis is drawn; -1 without one. */
static int main_floor(const gradin_model *model) {
    int heaviest = -1;
    for (int i = 0; i < model->n_focus; i++)
        if (model->focus[i].kind == GRADIN_FOCUS_FLOOR &&
            (heaviest < 0 || model->focus[i].weight > model->focus[heaviest].weight))
            heaviest = i;
    return heaviest;
}

void plan_draw_axis(const plan *p) {
    int floor = main_floor(p->model);
    if (!isfinite(p->model->axis_deg) || floor < 0) return;
    gradin_box2 box = plan_box(p, p->model->focus[floor].polygon);
    gradin_vec2 facing = gradin_bearing_unit(p->model->axis_deg);
    double half = 0.36 * fmin(box.x_max_m - box.x_min_m, box.y_max_m - box.y_min_m);
    gradin_vec2 centre = {0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m)};
    gradin_vec2 from = {centre.x - half * facing.x, centre.y + half * facing.y};
    gradin_vec2 to = {centre.x + half * facing.x, centre.y - half * facing.y};
    plan_axis_line(p->page, from, to);
    labels_take_line(p->grid, from, to, 8.0);
}

static void heights_text(const plan *p, const gradin_focus *focus, char *text, size_t size) {
    char low[24], high[24];
    const char *unit = plan_is_imperial(p->model) ? "ft" : "m";
    bool is_upright = focus->kind == GRADIN_FOCUS_UPRIGHT;
    plan_height_text(p->model, is_upright ? focus->bottom_m : focus->z_m, low);
    plan_height_text(p->model, focus->top_m, high);
    if (is_upright)
        snprintf(text, size, "%.60s, %s to %s %s", focus->name, low, high, unit);
    else if (focus->slope > 0.0)
        snprintf(text, size, "%.60s, from %s %s, slope %.0f %%", focus->name, low, unit,
                 100.0 * focus->slope);
    else if (focus->is_raised) {
        plan_height_text(p->model, focus->over_floor_m, high);
        snprintf(text, size, "%.60s, %s %s over the floor", focus->name, high, unit);
    } else
        snprintf(text, size, "%.60s, at %s %s", focus->name, low, unit);
}

static gradin_vec2 middle_of(const plan *p, const gradin_focus *focus) {
    gradin_vec2 at_m = focus->point_m;
    if (focus->kind == GRADIN_FOCUS_UPRIGHT) {
        int k = (focus->n_line - 1) / 2;
        gradin_vec2 a = focus->line_m[k], b = focus->line_m[k + 1];
        at_m = (gradin_vec2){0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    }
    return view_point(p->v, at_m.x, at_m.y);
}

static bool name_beside(const plan *p, const gradin_focus *focus, text_style style,
                        const char *text) {
    gradin_vec2 at = middle_of(p, focus);
    if (focus->kind == GRADIN_FOCUS_POINT)
        return labels_put_led(p->grid, p->page, style, at, 9.0, 3.5 * NAME_REACH, text);
    double half = 0.5 * canvas_text_width(p->page, style, text) + 4.0;
    gradin_box2 box = {at.x - half - 60.0, at.y - 2.0 * NAME_REACH, at.x + half + 60.0,
                       at.y + 2.0 * NAME_REACH};
    return labels_put(p->grid, p->page, style, box, (gradin_vec2){at.x, at.y - NAME_REACH}, true,
                      text);
}

static void name_area(const plan *p, const gradin_focus *focus) {
    char text[TEXT_CHARS];
    text_style style = {.size = 19.0, .is_bold = true, .ink = COLOUR_INK};
    heights_text(p, focus, text, sizeof text);
    if (focus->kind != GRADIN_FOCUS_FLOOR) {
        style = (text_style){
            .size = 15.0, .is_bold = true, .ink = mark_ink, .halo = 3.0, .halo_ink = COLOUR_WHITE};
        if (name_beside(p, focus, style, text)) return;
        snprintf(text, sizeof text, "%.60s", focus->name);
        name_beside(p, focus, style, text);
        return;
    }
    if (plan_name_box(p, plan_box(p, focus->polygon), style, text)) return;
    snprintf(text, sizeof text, "%.60s", focus->name);
    plan_name_area(p, focus->polygon, style, text);
}

void plan_name_focus(const plan *p) {
    for (int i = 0; i < p->model->n_focus; i++) name_area(p, &p->model->focus[i]);
}
