/* Fields that must be there. */
#include "venue/required.h"

#include <stdio.h>

owner owner_of(complaints *c, const char *name) {
    owner made = {.c = c};
    snprintf(made.name, sizeof made.name, "%s", name);
    return made;
}

owner owner_item(const owner *o, const char *list, int index) {
    owner made = {.c = o->c};
    snprintf(made.name, sizeof made.name, "%.60s.%.16s[%d]", o->name, list, index);
    return made;
}

static bool need(const owner *o, const char *field, bool is_there, const char *what) {
    if (!is_there) misuse(o->c, "%s.%s is missing or wrong: %s is needed", o->name, field, what);
    return is_there;
}

bool need_text(const owner *o, const char *field, const char *text) {
    return need(o, field, text && text[0], "a text");
}

bool need_size(const owner *o, const char *field, double value) {
    return need(o, field, isfinite(value) && value > 0.0, "a finite number above 0");
}

bool need_number(const owner *o, const char *field, double value) {
    return need(o, field, isfinite(value), "a finite number");
}

bool need_not_below(const owner *o, const char *field, double value, double least) {
    char what[64];
    snprintf(what, sizeof what, "a finite number of %g or more", least);
    return need(o, field, isfinite(value) && value >= least, what);
}

bool need_count(const owner *o, const char *field, int value, int least, int most) {
    char what[64];
    snprintf(what, sizeof what, "a whole number from %d to %d", least, most);
    return need(o, field, value >= least && value <= most, what);
}

bool need_index(const owner *o, const char *field, int value, int n) {
    char what[64];
    snprintf(what, sizeof what, "an index below %d", n);
    return need(o, field, value >= 0 && value<n, n> 0 ? what : "something to point to");
}

bool need_list(const owner *o, const char *field, const void *items, int n) {
    return need(o, field, n >= 0 && (items || n == 0), "an array of as many items as counted");
}

bool need_range(const owner *o, const char *field, const double range[2]) {
    return need(o, field, isfinite(range[0]) && isfinite(range[1]) && range[0] <= range[1],
                "two finite numbers, the lesser first");
}

bool need_point(const owner *o, const char *field, gradin_vec2 point_m) {
    return need(o, field, isfinite(point_m.x) && isfinite(point_m.y), "a point of finite numbers");
}

bool need_polygon(const owner *o, const char *field, gradin_polygon polygon) {
    bool is_there = polygon.corner_m && polygon.n_corner >= 3;
    for (int i = 0; i < polygon.n_corner && is_there; i++)
        is_there = isfinite(polygon.corner_m[i].x) && isfinite(polygon.corner_m[i].y);
    is_there = is_there && gradin_polygon_is_simple(polygon);
    return need(o, field, is_there, "a simple polygon of three corners or more");
}

bool need_bands(const owner *o, const char *field, const double band[GRADIN_N_BAND]) {
    bool is_there = true;
    for (int i = 0; i < GRADIN_N_BAND; i++) is_there &= isfinite(band[i]) != 0;
    return need(o, field, is_there, "a finite number for each band");
}

static bool need_solid(const owner *o, const gradin_solid *solid) {
    return need_text(o, "name", solid->name) && need_polygon(o, "polygon", solid->polygon) &&
           need_number(o, "bottom_m", solid->bottom_m) && need_number(o, "top_m", solid->top_m) &&
           need(o, "top_m", solid->top_m > solid->bottom_m, "a height above bottom_m") &&
           need_list(o, "triangle_m", solid->triangle_m, solid->n_triangle);
}

bool need_solids(const owner *o, const gradin_solid *solid, int n) {
    bool good = need_list(o, "solid", solid, n);
    for (int i = 0; good && i < n; i++) {
        owner item = owner_item(o, "solid", i);
        good = need_solid(&item, &solid[i]);
    }
    return good;
}
