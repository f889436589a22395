/* render/section/rake.h: the parts of the section through a rake. */
#ifndef GRADIN_RENDER_RAKE_H
#define GRADIN_RENDER_RAKE_H

#include "gradin/studies.h"
#include "render/draw/canvas.h"
#include "render/draw/view.h"

#define RAKE_TREAD_FILL ((colour){0.90, 0.90, 0.91})

/* Section to scale: x to the right from the point of focus, z upwards. */
typedef struct rake_view {
    canvas *page;
    const gradin_rake *rake;
    double unit_per_m, left, base; /* page x of the point of focus; page y of z = 0 */
    double z_low_m;                /* underside of all that is drawn */
    double x_stage_m;              /* the stage is drawn from here */
    double bottom;                 /* page y of z_low_m */
    int label_every;               /* rows, so that labels do not touch */
    double page_height;
} rake_view;

static inline gradin_vec2 rake_point(const rake_view *v, double x_m, double z_m) {
    return (gradin_vec2){v->left + x_m * v->unit_per_m, v->base - z_m * v->unit_per_m};
}

/* Front edge of a row's tread, its back edge. */
double rake_tread_front_m(const gradin_rake *rake, int k);
double rake_tread_back_m(const gradin_rake *rake, int k);
bool rake_is_short(const gradin_rake *rake, int k); /* less than the wanted C */
/* The row as the house writes it, or its number. */
void rake_row_name(const gradin_rake_row *row, char *text, size_t size);

void rake_draw_section(const rake_view *v);    /* rake_section.c */
void rake_draw_dimensions(const rake_view *v); /* rake_dimensions.c */
/* rake_table.c: the table below; its height in page units. */
double rake_table_height(const gradin_rake *rake);
void rake_draw_table(const rake_view *v, double top);

#endif
