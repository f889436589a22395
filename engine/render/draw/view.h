/* render/draw/view.h: where things stand on the page. North is up. */
#ifndef GRADIN_RENDER_VIEW_H
#define GRADIN_RENDER_VIEW_H

#include "gradin/studies.h"

/* Page units. */
#define PAGE_MARGIN 56.0
#define PLAN_TOP 176.0   /* below the title */
#define PLAN_BORDER 74.0 /* free band around the room, for doors and the overflight */
#define SCALE_STRIP 64.0 /* scale bar and north arrow, below the plan */
#define LEGEND_HEIGHT 452.0
#define FOOT_HEIGHT 128.0

typedef struct view {
    double unit_per_m;
    gradin_vec2 origin; /* page position of the plan's (0, 0) */
    gradin_box2 room;   /* page box of all that is drawn to scale; y downwards */
    double plan_bottom, legend_top, foot_top, page_height;
    double zoom; /* pixels per page unit: more than 1 when the seats would be too small to read */
} view;

/* An A3 sheet, upright: the same for all maps and sheets of a model, so that two pictures lie over
 * each other. False when the model has no extent. */
bool view_of(const gradin_model *model, view *out);
/* The same with `kept` page units between legend and foot for something more. */
bool view_keeping(const gradin_model *model, double kept, view *out);
/* The plan as large as it fits into a box of page units, `border` of them free around the room. */
bool view_in_box(const gradin_model *model, gradin_box2 box, double border, view *out);

static inline gradin_vec2 view_point(const view *v, double x_m, double y_m) {
    return (gradin_vec2){v->origin.x + x_m * v->unit_per_m, v->origin.y - y_m * v->unit_per_m};
}

#endif
