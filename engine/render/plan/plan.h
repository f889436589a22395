/* render/plan/plan.h: the room, its machines and its facade, to scale. */
#ifndef GRADIN_RENDER_PLAN_H
#define GRADIN_RENDER_PLAN_H

#include "gradin/render.h"
#include "render/draw/labels.h"

/* Everything that drawing the plan needs. */
typedef struct plan {
    canvas *page;
    const view *v;
    const gradin_model *model;
    label_grid *grid;
    int sheet;
    gradin_shade_state shades;
    const bool *is_hatched; /* [n_section] names stand on a white ground there; NULL: nowhere */
} plan;

static inline bool plan_on_sheet(int thing_sheet, int sheet) {
    return thing_sheet < 0 || thing_sheet == sheet;
}

/* plan_strokes.c: polygon as the canvas's current path. */
void plan_path(const plan *p, gradin_polygon polygon);
gradin_box2 plan_box(const plan *p, gradin_polygon polygon); /* page box */
void plan_shun(const plan *p, gradin_polygon outline);       /* labels keep off it where they can */

/* plan.c: floor, aisles, vomitories, lift sections, focus, axis, slabs: below the seats. */
void plan_draw_ground(const plan *p);
/* plan_focus.c: floors; uprights and points over the slabs; the axis; names, before all others. */
void plan_draw_focus(const plan *p);
void plan_draw_marks(const plan *p);
void plan_draw_axis(const plan *p);
void plan_name_focus(const plan *p);
/* structure.c: columns, walls, set pieces, arch panels, rails: above the seats. */
void plan_draw_structure(const plan *p);
/* facade.c: walls, glazing, shades, doors, vents; what is to be taken before the names, so that no
 * label covers it. */
void plan_take_facade(const plan *p);
void plan_draw_facade(const plan *p);
void plan_take_flight(const plan *p);
void plan_draw_flight(const plan *p);
/* seat_names.c: blocks, decks and rows of this sheet. */
void plan_draw_seat_names(const plan *p);
/* plan_names.c: labels where there is room for them. */
void plan_draw_names(const plan *p);
bool plan_name_box(const plan *p, gradin_box2 box, text_style style, const char *text);
void plan_name_area(const plan *p, gradin_polygon polygon, text_style style, const char *text);

bool plan_is_imperial(const gradin_model *model);
/* A height in the layout's unit, without it. */
char *plan_height_text(const gradin_model *model, double height_m, char text[24]);

/* The same strokes for the plan and the legend; page units. */

void plan_rail_line(canvas *page, const gradin_vec2 *point, int n_point);
/* A pane from a to b; `shut` 0..1 of it is hatched. */
void plan_pane_line(canvas *page, gradin_vec2 a, gradin_vec2 b, double shut);
/* A door from a to b, opening towards the unit vector `out`. */
void plan_door_line(canvas *page, gradin_vec2 a, gradin_vec2 b, gradin_vec2 out, double open);
void plan_vent_mark(canvas *page, gradin_vec2 centre);
void plan_solid_path(canvas *page, gradin_solid_kind kind); /* fills the current path */
void plan_aisle_path(canvas *page);
void plan_vomitory_path(canvas *page);
void plan_section_path(canvas *page);
void plan_floor_path(canvas *page);
void plan_slope_arrow(canvas *page, gradin_vec2 from, gradin_vec2 to);
void plan_focus_path(canvas *page);
void plan_upright_line(canvas *page, gradin_vec2 a, gradin_vec2 b);
void plan_point_mark(canvas *page, gradin_vec2 at);
void plan_axis_line(canvas *page, gradin_vec2 from, gradin_vec2 to);

#endif
