/* render/section/cut_page.h: the parts of the page of a cut. */
#ifndef GRADIN_RENDER_CUT_PAGE_H
#define GRADIN_RENDER_CUT_PAGE_H

#include "gradin/studies/view_picture.h"
#include "render/draw/boxes.h"
#include "render/draw/view.h"

#define CUT_WIDTH (PAGE_WIDTH * 420.0 / 297.0) /* A3, lying: ISO 216 */
#define CUT_HEIGHT PAGE_WIDTH
#define CUT_TOP 206.0
#define CUT_AXIS 104.0         /* left of the cut, for heights */
#define CUT_LEAST_HEIGHT 700.0 /* of the cut on the page */
#define CUT_MOST_HEIGHT 1180.0
#define CUT_KEY 132.0 /* axis and key below the cut */

typedef struct cut_page {
    canvas *page;
    const gradin_cut *cut;
    label_boxes *labels;
    double unit_per_m, left, base; /* page x of the line's first end; page y of height 0 */
    double z_low_m, z_high_m;      /* of what is drawn */
    double bottom;                 /* page y of z_low_m */
    bool is_brief;                 /* rows have names, other parts do not */
} cut_page;

static inline gradin_vec2 cut_point(const cut_page *p, double x_m, double z_m) {
    return (gradin_vec2){p->left + x_m * p->unit_per_m, p->base - z_m * p->unit_per_m};
}

cut_page cut_page_of(canvas *page, const gradin_cut *cut, label_boxes *labels);
void cut_draw_scene(const cut_page *p);                            /* cut_scene.c */
void cut_draw_axes(const cut_page *p);                             /* cut_axes.c */
void cut_draw_labels(const cut_page *p);                           /* cut_labels.c */
void cut_draw_table(const cut_page *p, double top, double bottom); /* cut_table.c */
/* "Stalls C", "Balcony 2" */
void cut_row_name(const gradin_cut *cut, int row, char *text, size_t size);
/* cut_page.c: all of the page on an open canvas. */
void cut_draw(canvas *page, const gradin_cut *cut, label_boxes *labels);

#endif
