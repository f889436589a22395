/* The places of a search: each key's values, or steps of its range.
 *
 * A range goes in steps of a round length, some 200 to 2,000 of them, so that what is found can be
 * set and read, and a search that comes back to a point finds it again. */
#include "studies/seek/seek.h"

#include <stdio.h>
#include <string.h>

static const double least_steps = 200.0;

/* A power of ten that the range holds at least 200 times. */
static double round_step(double length) {
    return pow(10.0, floor(log10(length / least_steps) + 1e-9));
}

static bool is_ordered(const gradin_varied *v) {
    double last = NAN, way = 0.0;
    for (int i = 0; i < v->n_value; i++) {
        double value;
        if (!gradin_parse_number(v->value[i], &value)) return false;
        double step = value - last;
        if (i > 0 && (step == 0.0 || step * way < 0.0)) return false;
        if (i > 0) way = step;
        last = value;
    }
    return true;
}

static seek_axis axis_of(const gradin_varied *v) {
    double length = v->to - v->from;
    if (v->n_value > 0) return (seek_axis){v, v->n_value, is_ordered(v), 0.0};
    if (!(length > 0.0)) return (seek_axis){v, 1, true, 1.0};
    double step = round_step(length);
    return (seek_axis){v, (int)ceil(length / step - 1e-6) + 1, true, step};
}

void seek_find_axes(seek_job *job) {
    job->n_axis = job->study->n_varied;
    for (int k = 0; k < job->n_axis; k++) job->axis[k] = axis_of(&job->study->varied[k]);
}

double seek_count_all(const seek_job *job) {
    double n = 1.0;
    for (int k = 0; k < job->n_axis; k++) n *= job->axis[k].n;
    return n;
}

/* As short as it is to read back to six decimals. */
static const char *number_text(gradin_arena *arena, double value) {
    char text[GRADIN_VALUE_CHARS];
    gradin_format_fixed(text, sizeof text, value, 6);
    char *end = text + strlen(text);
    while (end > text && end[-1] == '0' && strchr(text, '.')) *--end = '\0';
    if (end > text && end[-1] == '.') *--end = '\0';
    return gradin_arena_copy_text(arena, text);
}

const char *seek_value(const seek_job *job, int key, int at) {
    const seek_axis *a = &job->axis[key];
    if (a->varied->n_value > 0) return a->varied->value[at];
    if (at == 0) return number_text(job->arena, a->varied->from);
    if (at == a->n - 1) return number_text(job->arena, a->varied->to);
    return number_text(job->arena, (floor(a->varied->from / a->step + 1e-6) + at) * a->step);
}

seek_place seek_place_of(const seek_job *job, const double *unit) {
    seek_place p = {{0}};
    for (int k = 0; k < job->n_axis; k++) {
        int at = (int)floor(unit[k] * job->axis[k].n);
        p.at[k] = at < 0 ? 0 : at >= job->axis[k].n ? job->axis[k].n - 1 : at;
    }
    return p;
}
