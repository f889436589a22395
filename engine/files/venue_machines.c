/* The machines of a venue: lift grids, seating towers, the proscenium arch,
 * floor panels. */
#include "files/venue_read.h"

#include <string.h>

const char *const rail_kind_names[] = {"bar", "solid", "posts", NULL};

static void read_facings(reader *r, const node *at, bool faces[4]) {
    double value[4];
    int n = 0;
    if (!at || !read_numbers(r, at, 1, 4, 0.0, 270.0, 1.0, value, &n)) return;
    for (int i = 0; i < n; i++) {
        int quarter = (int)(value[i] / 90.0);
        if (value[i] != 90.0 * quarter)
            complain(r, at->child[i], "is %s; allowed: 0, 90, 180, 270", at->child[i]->text);
        else
            faces[quarter] = true;
    }
}

static void read_grid(reader *r, const node *at, gradin_lift_grid *g) {
    const node *facings = NULL, *size = NULL, *drive = NULL, *limit = NULL;
    double speed_ms = 0.0;
    *g = gradin_lift_grid_defaults();
    g->at = &at->place;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &g->name, 0},
         {"origin", FIELD_POINT, true, 0, 0, &g->origin_m, 0},
         {"columns", FIELD_INTEGER, true, 1, 26, &g->n_column, 0},
         {"rows", FIELD_INTEGER, true, 1, 99, &g->n_row, 0},
         {"size", FIELD_LIST, true, 0, 0, &size, 0},
         {"travel", FIELD_RANGE, true, -30, 30, g->travel_m, 0},
         {"steps_max", FIELD_INTEGER, false, 1, 20, &g->most_steps, 0},
         {"riser", FIELD_RANGE, false, 0, 2, g->riser_m, 0},
         {"facings_deg", FIELD_LIST, false, 0, 0, &facings, 0},
         {"speed_ms", FIELD_NUMBER, true, 1e-4, 2, &speed_ms, 0},
         {"load_limit", FIELD_MAP, false, 0, 0, &limit, 0},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    read_load_limit(r, limit, &g->load_limit);
    g->drive = gradin_drive_of(speed_ms, 0.0);
    read_drive(r, drive, &g->drive);
    if (size) read_numbers(r, size, 2, 2, 0.3, 50.0, r->unit_m, g->size_m, NULL);
    read_facings(r, facings, g->faces);
}

static void read_lifts(reader *r, const node *list, gradin_venue *v) {
    if (!list) return;
    gradin_lift_grid *grid = alloc(&r->c, list->n_child, sizeof *grid);
    if (!grid) return;
    v->grid = grid;
    v->n_grid = list->n_child;
    int before = r->c.n_error;
    for (int i = 0; i < list->n_child; i++) read_grid(r, list->child[i], &grid[i]);
    if (r->c.n_error == before) check_names(r, list, grid, v->n_grid, sizeof *grid);
}

static void read_tower_rail(reader *r, const node *at, double rail_min_m,
                            gradin_tower_level *level) {
    int kind = GRADIN_RAIL_BAR;
    READ(r, at, {"kind", FIELD_CHOICE, true, 0, 0, &kind, rail_kind_names},
         {"height", FIELD_LENGTH, true, 0.1, 2.0, &level->rail_height_m, 0},
         {"thickness", FIELD_LENGTH, false, 0.01, 0.3, &level->rail_thickness_m, 0},
         {"bars", FIELD_INTEGER, false, 1, 10, &level->rail_bars, 0});
    level->rail_kind = (gradin_rail_kind)kind;
    refuse_low_rail(r, at, level->rail_height_m, rail_min_m);
}

static void read_level(reader *r, const node *at, double rail_min_m, const gradin_tower *t,
                       gradin_tower_level *level) {
    const node *rail = NULL, *limit = NULL;
    *level = gradin_tower_level_defaults();
    bool good = READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &level->name, 0},
                     {"deck", FIELD_LENGTH, true, -10, 60, &level->deck_m, 0},
                     {"thickness", FIELD_LENGTH, true, 0.02, 3, &level->thickness_m, 0},
                     {"rows", FIELD_INTEGER, true, 1, 20, &level->n_row, 0},
                     {"row_depth", FIELD_LENGTH, true, 0.5, 3, &level->row_depth_m, 0},
                     {"riser", FIELD_LENGTH, false, 0.0, 1.5, &level->riser_m, 0},
                     {"seat_width", FIELD_LENGTH, true, 0.4, 1.5, &level->seat_width_m, 0},
                     {"front", FIELD_LENGTH, false, 0.0, 5.0, &level->front_m, 0},
                     {"seat_kg", FIELD_NUMBER, false, 0, 500, &level->seat_kg, 0},
                     {"load_limit", FIELD_MAP, false, 0, 0, &limit, 0},
                     {"rail", FIELD_MAP, false, 0, 0, &rail, 0});
    if (rail) read_tower_rail(r, rail, rail_min_m, level);
    read_load_limit(r, limit, &level->load_limit);
    if (good && level->front_m + level->n_row * level->row_depth_m > t->depth_m + 1e-9)
        complain_key(r, at, "rows",
                     "do not fit: front + rows x row_depth is more than the tower's "
                     "depth");
}

static void read_levels(reader *r, const node *list, double rail_min_m, gradin_tower *t) {
    gradin_tower_level *level = alloc(&r->c, list->n_child, sizeof *level);
    if (!level) return;
    for (int i = 0; i < list->n_child; i++) {
        read_level(r, list->child[i], rail_min_m, t, &level[i]);
        if (i > 0 && level[i].deck_m <= level[i - 1].deck_m)
            complain_key(r, list->child[i], "deck", "must be above the level before it");
    }
    check_names(r, list, level, list->n_child, sizeof *level);
    t->level = level;
    t->n_level = list->n_child;
}

static void read_tower(reader *r, const node *at, double rail_min_m, gradin_tower *t) {
    const node *levels = NULL, *slide = NULL, *drive = NULL, *slide_drive = NULL;
    const node *payload = NULL;
    double hoist_ms = 0.0, slide_ms = INFINITY, mass_kg = 0.0;
    *t = gradin_tower_defaults();
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &t->name, 0},
         {"front", FIELD_POINT, true, 0, 0, &t->front_m, 0},
         {"facing_deg", FIELD_NUMBER, true, 0, 360, &t->facing_deg, 0},
         {"width", FIELD_LENGTH, true, 0.5, 60, &t->width_m, 0},
         {"depth", FIELD_LENGTH, true, 0.5, 30, &t->depth_m, 0},
         {"post", FIELD_LENGTH, false, 0, 2, &t->post_m, 0},
         {"hoist", FIELD_RANGE, true, -5, 60, t->hoist_m, 0},
         {"hoist_speed_ms", FIELD_NUMBER, true, 1e-5, 2, &hoist_ms, 0},
         {"slide", FIELD_MAP, false, 0, 0, &slide, 0},
         {"mass_kg", FIELD_NUMBER, false, 1, 1e6, &mass_kg, 0},
         {"payload", FIELD_MAP, false, 0, 0, &payload, 0},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0},
         {"levels", FIELD_LIST, true, 0, 0, &levels, 0});
    if (slide)
        READ(r, slide, {"bearing_deg", FIELD_NUMBER, true, 0, 360, &t->slide_bearing_deg, 0},
             {"range", FIELD_RANGE, true, -60, 60, t->slide_m, 0},
             {"speed_ms", FIELD_NUMBER, true, 1e-5, 2, &slide_ms, 0},
             {"drive", FIELD_MAP, false, 0, 0, &slide_drive, 0});
    read_payload(r, payload, t);
    t->hoist_drive = gradin_drive_of(hoist_ms, mass_kg);
    t->slide_drive = gradin_drive_of(slide_ms, mass_kg);
    read_drive(r, drive, &t->hoist_drive);
    read_drive(r, slide_drive, &t->slide_drive);
    if (levels) read_levels(r, levels, rail_min_m, t);
}

static void read_towers(reader *r, const node *list, gradin_venue *v) {
    if (!list) return;
    gradin_tower *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_tower(r, list->child[i], v->rail_min_m, &made[i]);
    check_names(r, list, made, list->n_child, sizeof *made);
    v->tower = made;
    v->n_tower = list->n_child;
}

/* What comes down in the opening: a curtain, a fire curtain, a wall. */
static void read_closing(reader *r, const node *at, gradin_arch *a) {
    const node *any, *drive = NULL;
    double move_s = 0.0;
    if (!at) return;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &a->closing_name, 0},
         {"r_db", FIELD_LIST, true, 0, 0, &any, 0}, {"absorption", FIELD_LIST, true, 0, 0, &any, 0},
         {"move_s", FIELD_NUMBER, false, 0, 36000, &move_s, 0},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    a->closing_drive = gradin_drive_of_share(move_s);
    read_share_drive(r, drive, &a->closing_drive);
    read_spectrum(r, at, "r_db", false, 0.0, 90.0, a->closing_r_db);
    read_spectrum(r, at, "absorption", false, 0.0, 1.0, a->closing_absorption);
}

static void read_arch(reader *r, const node *at, gradin_venue *v) {
    if (!at) return;
    gradin_arch *a = alloc(&r->c, 1, sizeof *a);
    const node *line = NULL, *drive = NULL, *opening_drive = NULL, *closing = NULL;
    double speed_ms = 0.0, opening_speed_ms = 0.0;
    gradin_vec2 *point_m;
    int n_point = 0;
    if (!a) return;
    *a = gradin_arch_defaults();
    bool good = READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &a->name, 0},
                     {"line", FIELD_LIST, true, 0, 0, &line, 0},
                     {"thickness", FIELD_LENGTH, true, 0.02, 3, &a->thickness_m, 0},
                     {"opening", FIELD_RANGE, true, 0.5, 100, a->opening_m, 0},
                     {"trim", FIELD_RANGE, true, 0.5, 60, a->trim_m, 0},
                     {"speed_ms", FIELD_NUMBER, true, 1e-5, 2, &speed_ms, 0},
                     {"opening_speed_ms", FIELD_NUMBER, false, 1e-5, 2, &opening_speed_ms, 0},
                     {"opening_drive", FIELD_MAP, false, 0, 0, &opening_drive, 0},
                     {"closing", FIELD_MAP, false, 0, 0, &closing, 0},
                     {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    read_closing(r, closing, a);
    a->trim_drive = gradin_drive_of(speed_ms, 0.0);
    read_drive(r, drive, &a->trim_drive);
    a->opening_drive = a->trim_drive;
    if (opening_speed_ms > 0.0) a->opening_drive.speed_per_s = opening_speed_ms;
    read_drive(r, opening_drive, &a->opening_drive);
    if (!line || !read_points(r, line, 2, &point_m, &n_point)) return;
    if (n_point != 2) {
        complain(r, line, "has %d points; 2 are needed", n_point);
        return;
    }
    a->line_m[0] = point_m[0];
    a->line_m[1] = point_m[1];
    double length_m = hypot(point_m[1].x - point_m[0].x, point_m[1].y - point_m[0].y);
    if (good && a->opening_m[1] > length_m)
        complain_key(r, at, "opening", "is wider than the line that carries the arch");
    v->arch = a;
}

static void read_panel(reader *r, const node *at, gradin_floor_panel *p) {
    const node *drive = NULL, *limit = NULL;
    double move_s = 0.0;
    *p = gradin_floor_panel_defaults();
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &p->name, 0},
         {"polygon", FIELD_POLYGON, true, 0, 0, &p->polygon, 0},
         {"stair_top_deg", FIELD_NUMBER, false, 0, 360, &p->stair_top_deg, 0},
         {"move_s", FIELD_NUMBER, false, 0, 36000, &move_s, 0},
         {"load_limit", FIELD_MAP, false, 0, 0, &limit, 0},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    p->drive = gradin_drive_of_share(move_s);
    read_share_drive(r, drive, &p->drive);
    read_load_limit(r, limit, &p->load_limit);
}

static void read_panels(reader *r, const node *list, gradin_venue *v) {
    if (!list) return;
    gradin_floor_panel *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_panel(r, list->child[i], &made[i]);
    check_names(r, list, made, list->n_child, sizeof *made);
    v->panel = made;
    v->n_panel = list->n_child;
}

void venue_read_machines(reader *r, const node *machines, gradin_venue *v) {
    const node *lifts = NULL, *towers = NULL, *arch_at = NULL, *panels = NULL;
    const node *crew = NULL, *loads = NULL, *interlocks;
    if (!READ(r, machines, {"lifts", FIELD_LIST, false, 0, 0, &lifts, 0},
              {"towers", FIELD_LIST, false, 0, 0, &towers, 0},
              {"arch", FIELD_MAP, false, 0, 0, &arch_at, 0},
              {"panels", FIELD_LIST, false, 0, 0, &panels, 0},
              {"crew", FIELD_MAP, false, 0, 0, &crew, 0},
              {"loads", FIELD_MAP, false, 0, 0, &loads, 0},
              {"interlocks", FIELD_LIST, false, 0, 0, &interlocks, 0}))
        return;
    read_lifts(r, lifts, v);
    read_towers(r, towers, v);
    read_arch(r, arch_at, v);
    read_panels(r, panels, v);
    if (crew) venue_read_crew(r, crew, v);
    if (loads) venue_read_loads(r, loads, v);
}
