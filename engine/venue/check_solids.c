/* Do the solids stand in the room? A deck or a set piece ends at the wall; a column, a wall or a
 * model may be built into it, but not stand outside altogether. */
#include "venue/parts.h"

static const double TOUCH_M = 0.02; /* drawn this far into a wall is drawn at it */

bool ends_at_walls(const gradin_venue *v, gradin_polygon polygon) {
    double outside_m2 =
        gradin_polygon_area_m2(polygon) - gradin_polygon_common_m2(polygon, v->footprint);
    return outside_m2 <= TOUCH_M * gradin_polygon_perimeter_m(polygon);
}

static bool is_within(const gradin_solid *s) {
    return s->kind == GRADIN_SOLID_SLAB || s->kind == GRADIN_SOLID_SET;
}

static void check_solid(complaints *c, const gradin_venue *v, const gradin_solid *s) {
    const gradin_place *at = s->at ? s->at : &(gradin_place){.key = s->name};
    if (ends_at_walls(v, s->polygon)) return;
    if (is_within(s))
        refuse_key(c, at, "polygon", "%s reaches outside the room's footprint; end it at the wall",
                   s->name);
    else if (gradin_polygon_common_m2(s->polygon, v->footprint) < 1e-9)
        refuse_key(c, at, "polygon", "%s stands outside the room's footprint", s->name);
}

void check_solids(complaints *c, const gradin_venue *v, const gradin_solid *solid, int n) {
    for (int i = 0; i < n; i++) check_solid(c, v, &solid[i]);
}
