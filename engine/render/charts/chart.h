/* render/charts/chart.h: a chart over third-octave bands: equal steps for equal ratios of
 * frequency, 50 Hz to 5 kHz, and a scale in decibels. */
#ifndef GRADIN_RENDER_CHART_H
#define GRADIN_RENDER_CHART_H

#include "gradin/model.h"
#include "render/draw/canvas.h"

typedef struct chart {
    canvas *page;
    gradin_box2 box; /* page units; y_min_m is its top */
    double low_db, high_db;
} chart;

/* How one curve is drawn; every kind differs from the others without colour. */
typedef struct chart_style {
    int shape; /* of its markers, 0 .. CHART_N_SHAPE - 1 */
    int dash;  /* of its line, 0 .. CHART_N_DASH - 1 */
    bool is_filled;
    double width;
    colour ink;
} chart_style;

enum { CHART_N_SHAPE = 6, CHART_N_DASH = 4 };

/* Frame, grid at every third, stronger at octaves and at full tens of dB, numbers on both axes. */
void chart_axes(const chart *c, double step_db, const char *label, bool has_bands);
double chart_x(const chart *c, int band);
double chart_y(const chart *c, double db);
/* Line and markers through the finite values of db[GRADIN_N_BAND]. */
void chart_curve(const chart *c, chart_style style, const double *db);
/* A piece of the line with one marker, for a legend. */
void chart_sample(canvas *page, chart_style style, double x, double y, double width);

#endif
