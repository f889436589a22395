/* Labels: the focus first, then what stands in it, then the machines' heights. */
#include "base/shared/plain.h"
#include "render/plan/plan.h"

#include <stdio.h>
#include <string.h>

#define INSET 4.0             /* page units to the border of what is named */
#define HALO_ON_HATCHING 12.0 /* page units: letters are lost between slanted lines */
#define DOOR_REACH 44.0       /* page units around a door's middle in which its name may stand */

static gradin_vec2 middle_of(gradin_box2 box) {
    return (gradin_vec2){0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m)};
}

static bool is_on_hatching(const plan *p, gradin_box2 box) {
    for (int i = 0; p->is_hatched && i < p->model->n_section; i++) {
        gradin_box2 s = plan_box(p, (gradin_polygon){p->model->section[i].corner_m, 4});
        if (p->is_hatched[i] && s.x_min_m < box.x_max_m && box.x_min_m < s.x_max_m &&
            s.y_min_m < box.y_max_m && box.y_min_m < s.y_max_m)
            return true;
    }
    return false;
}

bool plan_name_box(const plan *p, gradin_box2 box, text_style style, const char *text) {
    gradin_vec2 middle = middle_of(box);
    box = (gradin_box2){box.x_min_m + INSET, box.y_min_m + INSET, box.x_max_m - INSET,
                        box.y_max_m - INSET};
    style.halo = is_on_hatching(p, box) ? HALO_ON_HATCHING : 3.0;
    style.halo_ink = COLOUR_WHITE;
    return labels_put(p->grid, p->page, style, box, middle, true, text);
}

/* A long name gets smaller letters before it is left out. */
void plan_name_area(const plan *p, gradin_polygon polygon, text_style style, const char *text) {
    gradin_box2 box = plan_box(p, polygon);
    for (double least = fmax(0.7 * style.size, LEAST_TEXT); style.size >= least; style.size -= 2.0)
        if (plan_name_box(p, box, style, text)) return;
}

static text_style section_style(const plan *p, int section) {
    if (!p->is_hatched || !p->is_hatched[section])
        return (text_style){.size = 12.0, .ink = {0.46, 0.46, 0.49}};
    return (text_style){.size = 14.0, .is_bold = true, .ink = COLOUR_INK};
}

static void name_section(const plan *p, int index) {
    const gradin_section *section = &p->model->section[index];
    const gradin_setting *set = &section->machine->setting;
    char text[64], low[24], high[24];
    double top_m = set->position + (set->n_step - 1) * set->riser_m;
    if (fabs(set->position) < 0.005 && fabs(top_m) < 0.005) return;
    plan_height_text(p->model, set->position, low);
    plan_height_text(p->model, top_m, high);
    if (strcmp(low, high) == 0)
        snprintf(text, sizeof text, "%s", low);
    else
        snprintf(text, sizeof text, "%s\xE2\x80\x93%s", low, high);
    plan_name_box(p, plan_box(p, (gradin_polygon){section->corner_m, 4}), section_style(p, index),
                  text);
}

static void name_door(const plan *p, const gradin_element *element) {
    double half = 0.5 * element->width_m;
    gradin_vec2 middle = view_point(p->v, element->corner_m.x + half * element->along.x,
                                    element->corner_m.y + half * element->along.y);
    gradin_vec2 wanted = {middle.x + 22.0 * element->outward.x,
                          middle.y - 22.0 * element->outward.y};
    gradin_box2 box = {wanted.x - 2.6 * DOOR_REACH, wanted.y - DOOR_REACH,
                       wanted.x + 2.6 * DOOR_REACH, wanted.y + DOOR_REACH};
    char text[32];
    snprintf(text, sizeof text, "%.20s", element->name);
    text_style style = {.size = 14.0, .ink = COLOUR_QUIET, .halo = 3.0, .halo_ink = COLOUR_WHITE};
    labels_put(p->grid, p->page, style, box, wanted, true, text);
}

static void name_floor(const plan *p, int floor) {
    char text[TEXT_CHARS], low[24], high[24];
    const gradin_floor_region *f = &p->model->floor[floor];
    const gradin_floor_lie *lie = &p->model->floor_lie[floor];
    const char *unit = plan_is_imperial(p->model) ? "ft" : "m";
    plan_height_text(p->model, lie->low_m, low);
    plan_height_text(p->model, lie->high_m, high);
    if (!isnan(lie->uphill_deg))
        plain_print(text, sizeof text, "%.60s, %s to %s %s, slope %.1f %%", f->name, low, high,
                    unit, 100.0 * lie->slope);
    else
        snprintf(text, sizeof text, "%.60s, at %s %s", f->name, low, unit);
    text_style style = {.size = 15.0, .ink = COLOUR_QUIET};
    if (plan_name_box(p, plan_box(p, f->polygon), style, text)) return;
    plan_name_area(p, f->polygon, style, f->name);
}

void plan_draw_names(const plan *p) {
    const gradin_model *model = p->model;
    text_style quiet = {.size = 15.0, .ink = COLOUR_QUIET};
    plan_draw_seat_names(p);
    for (int i = 0; i < model->n_solid; i++)
        if ((model->solid[i].kind == GRADIN_SOLID_SET ||
             model->solid[i].kind == GRADIN_SOLID_MESH) &&
            plan_on_sheet(model->solid[i].sheet, p->sheet))
            plan_name_area(p, model->solid[i].polygon, quiet, model->solid[i].name);
    for (int i = 0; i < model->n_vomitory; i++)
        plan_name_area(p, model->vomitory[i].polygon, quiet, model->vomitory[i].name);
    for (int i = 0; i < model->n_aisle; i++)
        if (plan_on_sheet(model->aisle_sheet[i], p->sheet))
            plan_name_area(p, model->aisle[i].polygon, quiet, model->aisle[i].name);
    for (int i = 0; i < model->n_floor; i++) name_floor(p, i);
    for (int i = 0; i < model->n_element; i++)
        if (model->element[i].kind == GRADIN_ELEMENT_DOOR) name_door(p, &model->element[i]);
    for (int i = 0; i < model->n_section; i++) name_section(p, i);
}
