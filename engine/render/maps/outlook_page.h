/* render/maps/outlook_page.h: what a map of an outlook shows besides its seats. */
#ifndef GRADIN_RENDER_OUTLOOK_PAGE_H
#define GRADIN_RENDER_OUTLOOK_PAGE_H

#include "gradin/studies/outlook.h"
#include "render/plan/plan.h"

/* outlook_marks.c: rings with the points' numbers, on the plan and anywhere. */
void plan_draw_outside(const plan *p, const gradin_outside *outside);
void outlook_ring(canvas *page, gradin_vec2 at, int number);

/* outlook_views.c: one small plan of the focus for each point, in a strip above the page's foot. */
double outlook_views_height(const gradin_outlook *outlook);
void outlook_views_draw(canvas *page, double top, const gradin_outlook *outlook);

#endif
