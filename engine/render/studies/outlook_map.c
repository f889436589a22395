/* The map of an outlook: seats by their share of open glass. The scale ends where the seats do, at
 * one of a few ends of our own. */
#include "gradin/studies/outlook_map.h"
#include "base/use.h"
#include "render/draw/encode.h"
#include "render/maps/page.h"
#include "sightline/outlook/complete.h"

#include <stdio.h>

static const double glass_end[] = {0.05, 0.10, 0.15, 0.25};

static quantity quantity_of_outlook(const gradin_outlook *o) {
    quantity q = {.model = o->model,
                  .unit = "%",
                  .value = o->open_glass,
                  .low = 0.0,
                  .shown_per_si = 100.0,
                  .is_high_good = true, /* bright: much glass */
                  .criterion = NAN,
                  .shades = o->are_shades_up ? GRADIN_SHADES_OPEN : GRADIN_SHADES_AS_SET,
                  .outlook = o};
    quantity_reach(&q, glass_end, (int)(sizeof glass_end / sizeof *glass_end));
    snprintf(q.title, sizeof q.title, "Open glass as a share of the seat's outlook");
    snprintf(q.context, sizeof q.context, "%s",
             o->are_shades_up ? "every shade taken as up" : "shades as set");
    snprintf(q.note, sizeof q.note,
             "Of the half of all directions ahead of the seated eye, by solid angle, past people, "
             "rails and structure. Bright is much glass, neither good nor bad. Numbers outside the "
             "room: points that look in; an arrow points to one beyond the page.");
    return q;
}

gradin_status gradin_outlook_map_png(gradin_arena *arena, const gradin_outlook *outlook, int sheet,
                                     unsigned char **bytes, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        outlook_complete(outlook, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    quantity q = quantity_of_outlook(outlook);
    return page_png(arena, &q, sheet, bytes, size, error);
}

gradin_status gradin_outlook_map_write(const gradin_outlook *outlook, gradin_picture format,
                                       const char *dir, int *n_written, gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || outlook_complete(outlook, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    int n = 0;
    easel e;
    quantity q = quantity_of_outlook(outlook);
    q.format = format;
    gradin_status status = easel_open(&e, error);
    for (int k = 0; k < q.model->seats.n_sheet && status == GRADIN_OK; k++)
        status = page_write(&e, &q, k, dir, "outlook", &n, error);
    easel_close(&e);
    if (n_written) *n_written = n;
    return status;
}
