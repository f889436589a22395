/* Is the layout one of this venue: names unlike, rails high enough and in the room, machines within
 * their travel, interlocks kept? */
#include "base/lookup.h"
#include "base/use.h"
#include "venue/parts.h"

static void check_block_names(complaints *c, const gradin_layout *p) {
    for (int i = 1; i < p->n_block; i++)
        if (index_of(p->block, i, sizeof *p->block, p->block[i].name) >= 0)
            refuse(c, p->block[i].at, "two blocks are named '%s'", p->block[i].name);
}

/* The parapet of a row of boxes stands at the place of its boxes. */
static const char *height_key(const gradin_layout *p, const gradin_rail_entry *rail) {
    for (int i = 0; rail->at && i < p->n_block; i++)
        if (p->block[i].at == rail->at) return "parapet";
    return "height";
}

/* As a line; rails are drawn a little into the wall at which they end. */
static const double INTO_WALL_M = 0.1;
enum { POINTS_A_STRETCH = 8 };

static bool is_off_room(const gradin_venue *v, gradin_vec2 at_m) {
    if (gradin_polygon_contains(v->footprint, at_m)) return false;
    gradin_vec2 near_m = gradin_polygon_nearest_m(v->footprint, at_m, NULL);
    return hypot(near_m.x - at_m.x, near_m.y - at_m.y) > INTO_WALL_M;
}

static bool leaves_room(const gradin_venue *v, const gradin_rail_entry *rail) {
    for (int k = 0; k + 1 < rail->n_point; k++) {
        gradin_vec2 from_m = rail->point_m[k], to_m = rail->point_m[k + 1];
        for (int i = 0; i <= POINTS_A_STRETCH; i++) {
            double share = (double)i / POINTS_A_STRETCH;
            gradin_vec2 at_m = {from_m.x + share * (to_m.x - from_m.x),
                                from_m.y + share * (to_m.y - from_m.y)};
            if (is_off_room(v, at_m)) return true;
        }
    }
    return false;
}

static void check_rails(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    for (int i = 0; i < p->n_rail; i++) {
        const gradin_rail_entry *rail = &p->rail[i];
        check_rail_height(c, rail->at, rail->name, height_key(p, rail), rail->height_m,
                          v->rail_min_m, p->units);
        if (leaves_room(v, rail))
            refuse(c, rail->at ? rail->at : &(gradin_place){.key = rail->name},
                   "rail %s reaches outside the room's footprint; end it at the wall", rail->name);
    }
}

gradin_status gradin_layout_check(gradin_arena *arena, const gradin_venue *venue,
                                  const gradin_layout *layout, gradin_error *error) {
    if (NEEDS(error, arena, venue, layout) != GRADIN_OK) return GRADIN_BAD_USE;
    complaints c = {.arena = arena, .error = error};
    if (!require_whole_venue(&c, venue) || !require_layout(&c, venue, layout))
        return complaints_status(&c);
    if (layout->at) c.file = layout->at->file;
    check_venue(&c, venue);
    check_block_names(&c, layout);
    check_rails(&c, venue, layout);
    check_solids(&c, venue, layout->solid, layout->n_solid);
    check_settings(&c, venue, layout);
    check_scenery_work(&c, venue, layout);
    if (c.n_error == 0) check_interlocks(&c, venue, layout);
    return complaints_status(&c);
}
