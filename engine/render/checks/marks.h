/* render/checks/marks.h: what the rough checks found, as marks on the plan. Each differs by its
 * form, so that the plan holds in grey. */
#ifndef GRADIN_RENDER_MARKS_H
#define GRADIN_RENDER_MARKS_H

#include "render/plan/plan.h"

/* Strokes that plan and key share; page units. */
void marks_route_line(canvas *page, gradin_vec2 a, gradin_vec2 b, bool is_wheelchair);
void marks_route_end(canvas *page, gradin_vec2 from, gradin_vec2 to);
void marks_edge_line(canvas *page, gradin_vec2 a, gradin_vec2 b, bool is_stage);
void marks_dead_end(canvas *page, gradin_vec2 at);
void marks_narrow(canvas *page, gradin_vec2 at);
void marks_exit(canvas *page, gradin_vec2 at, gradin_vec2 out, bool is_free);
void marks_overload_path(canvas *page);

/* Lift sections over their limit, false before; what has another name stands in the list beside the
 * plan. */
void marks_find_overloads(const gradin_fit *fit, bool *is_over); /* [n_section] */
void marks_draw_ground(const plan *p); /* the plan's hatched sections: below the seats */
/* Everything over the seats. */
void marks_draw(const plan *p, const gradin_fit *fit);

/* key.c: what the marks mean, and what was found. */
void key_draw(canvas *page, const view *v, const gradin_fit *fit);

#endif
