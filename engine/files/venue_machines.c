/* The machines of a venue: lift grids and their sections, seating towers, the proscenium arch,
 * floor panels. */
#include "venue/venue.h"

#include <string.h>

const char *const rail_kind_names[] = {"bar", "solid", "posts", NULL};

/* ---- lifts
 * ---------------------------------------------------------------------------------------- */

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

static void read_grid(reader *r, const node *at, lift_grid *g) {
    const node *facings = NULL, *size = NULL, *drive = NULL, *limit = NULL;
    g->at = at;
    g->most_steps = 1;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &g->name, 0},
         {"origin", FIELD_POINT, true, 0, 0, &g->origin_m, 0},
         {"columns", FIELD_INTEGER, true, 1, 26, &g->n_column, 0},
         {"rows", FIELD_INTEGER, true, 1, 99, &g->n_row, 0},
         {"size", FIELD_LIST, true, 0, 0, &size, 0},
         {"travel", FIELD_RANGE, true, -30, 30, g->travel_m, 0},
         {"steps_max", FIELD_INTEGER, false, 1, 20, &g->most_steps, 0},
         {"riser", FIELD_RANGE, false, 0, 2, g->riser_m, 0},
         {"facings_deg", FIELD_LIST, false, 0, 0, &facings, 0},
         {"speed_ms", FIELD_NUMBER, true, 1e-4, 2, &g->speed_ms, 0},
         {"load_limit", FIELD_MAP, false, 0, 0, &limit, 0},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    read_load_limit(r, limit, &g->load_limit);
    g->drive = drive_of(g->speed_ms, 0.0);
    read_drive(r, drive, &g->drive);
    if (size) read_numbers(r, size, 2, 2, 0.3, 50.0, r->unit_m, g->size_m, NULL);
    read_facings(r, facings, g->faces);
}

static bool append_sections(reader *r, const node *at, venue *v, lift_section *section, int grid) {
    const lift_grid *g = &v->grid[grid];
    if (v->n_section + g->n_column * g->n_row > GRADIN_MAX_SECTION) {
        complain(r, at, "brings the venue over %d lift sections", GRADIN_MAX_SECTION);
        return false;
    }
    for (int row = 0; row < g->n_row; row++)
        for (int column = 0; column < g->n_column; column++) {
            lift_section *s = &section[v->n_section++];
            *s = (lift_section){.grid = grid, .column = column, .row = row};
            s->name = print_text(r, "%s-%c%d", g->name, 'A' + column, row + 1);
            double x_m = g->origin_m.x + column * g->size_m[0];
            double y_m = g->origin_m.y + row * g->size_m[1];
            s->box = (gradin_box2){x_m, y_m, x_m + g->size_m[0], y_m + g->size_m[1]};
        }
    return true;
}

static void read_lifts(reader *r, const node *list, venue *v) {
    if (!list) return;
    lift_grid *grid = take(r, list->n_child, sizeof *grid);
    lift_section *section = take(r, GRADIN_MAX_SECTION, sizeof *section);
    if (!grid || !section) return;
    v->grid = grid;
    v->section = section;
    v->n_grid = list->n_child;
    int before = r->n_error;
    for (int i = 0; i < list->n_child; i++) read_grid(r, list->child[i], &grid[i]);
    if (r->n_error == before) check_names(r, list, grid, v->n_grid, sizeof *grid);
    for (int i = 0; i < list->n_child && r->n_error == before; i++)
        append_sections(r, list->child[i], v, section, i);
}

/* ---- towers
 * --------------------------------------------------------------------------------------- */

static void read_tower_rail(reader *r, const node *at, double rail_min_m, tower_level *level) {
    READ(r, at, {"kind", FIELD_CHOICE, true, 0, 0, &level->rail_kind, rail_kind_names},
         {"height", FIELD_LENGTH, true, 0.1, 2.0, &level->rail_height_m, 0},
         {"thickness", FIELD_LENGTH, false, 0.01, 0.3, &level->rail_thickness_m, 0},
         {"bars", FIELD_INTEGER, false, 1, 10, &level->rail_bars, 0});
    check_rail_height(r, at, level->rail_height_m, rail_min_m);
}

static void read_level(reader *r, const node *at, double rail_min_m, const tower *t,
                       tower_level *level) {
    const node *rail = NULL, *limit = NULL;
    level->rail_thickness_m = 0.05;
    level->rail_bars = 1;
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

static void read_levels(reader *r, const node *list, double rail_min_m, tower *t) {
    tower_level *level = take(r, list->n_child, sizeof *level);
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

static void read_tower(reader *r, const node *at, double rail_min_m, tower *t) {
    const node *levels = NULL, *slide = NULL, *drive = NULL, *slide_drive = NULL;
    const node *payload = NULL;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &t->name, 0},
         {"front", FIELD_POINT, true, 0, 0, &t->front_m, 0},
         {"facing_deg", FIELD_NUMBER, true, 0, 360, &t->facing_deg, 0},
         {"width", FIELD_LENGTH, true, 0.5, 60, &t->width_m, 0},
         {"depth", FIELD_LENGTH, true, 0.5, 30, &t->depth_m, 0},
         {"post", FIELD_LENGTH, false, 0, 2, &t->post_m, 0},
         {"hoist", FIELD_RANGE, true, -5, 60, t->hoist_m, 0},
         {"hoist_speed_ms", FIELD_NUMBER, true, 1e-5, 2, &t->hoist_speed_ms, 0},
         {"slide", FIELD_MAP, false, 0, 0, &slide, 0},
         {"mass_kg", FIELD_NUMBER, false, 1, 1e6, &t->mass_kg, 0},
         {"payload", FIELD_MAP, false, 0, 0, &payload, 0},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0},
         {"levels", FIELD_LIST, true, 0, 0, &levels, 0});
    if (slide)
        READ(r, slide, {"bearing_deg", FIELD_NUMBER, true, 0, 360, &t->slide_bearing_deg, 0},
             {"range", FIELD_RANGE, true, -60, 60, t->slide_m, 0},
             {"speed_ms", FIELD_NUMBER, true, 1e-5, 2, &t->slide_speed_ms, 0},
             {"drive", FIELD_MAP, false, 0, 0, &slide_drive, 0});
    read_payload(r, payload, t);
    t->hoist_drive = drive_of(t->hoist_speed_ms, t->mass_kg);
    t->slide_drive = drive_of(slide ? t->slide_speed_ms : INFINITY, t->mass_kg);
    read_drive(r, drive, &t->hoist_drive);
    read_drive(r, slide_drive, &t->slide_drive);
    if (levels) read_levels(r, levels, rail_min_m, t);
}

static void read_towers(reader *r, const node *list, venue *v) {
    if (!list) return;
    tower *made = take(r, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_tower(r, list->child[i], v->rail_min_m, &made[i]);
    check_names(r, list, made, list->n_child, sizeof *made);
    v->tower = made;
    v->n_tower = list->n_child;
}

/* ---- arch and panels
 * ------------------------------------------------------------------------------- */

/* What comes down in the opening: a curtain, a fire curtain, a wall. */
static void read_closing(reader *r, const node *at, arch *a) {
    const node *any, *drive = NULL;
    double move_s = 0.0;
    if (!at) return;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &a->closing_name, 0},
         {"r_db", FIELD_LIST, true, 0, 0, &any, 0}, {"absorption", FIELD_LIST, true, 0, 0, &any, 0},
         {"move_s", FIELD_NUMBER, false, 0, 36000, &move_s, 0},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    a->closing_drive = drive_of_share(move_s);
    read_share_drive(r, drive, &a->closing_drive);
    read_spectrum(r, at, "r_db", false, 0.0, 90.0, a->closing_r_db);
    read_spectrum(r, at, "absorption", false, 0.0, 1.0, a->closing_absorption);
}

static void read_arch(reader *r, const node *at, venue *v) {
    if (!at) return;
    arch *a = take(r, 1, sizeof *a);
    const node *line = NULL, *drive = NULL, *opening_drive = NULL, *closing = NULL;
    double opening_speed_ms = 0.0;
    gradin_vec2 *point_m;
    int n_point = 0;
    if (!a) return;
    bool good = READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &a->name, 0},
                     {"line", FIELD_LIST, true, 0, 0, &line, 0},
                     {"thickness", FIELD_LENGTH, true, 0.02, 3, &a->thickness_m, 0},
                     {"opening", FIELD_RANGE, true, 0.5, 100, a->opening_m, 0},
                     {"trim", FIELD_RANGE, true, 0.5, 60, a->trim_m, 0},
                     {"speed_ms", FIELD_NUMBER, true, 1e-5, 2, &a->speed_ms, 0},
                     {"opening_speed_ms", FIELD_NUMBER, false, 1e-5, 2, &opening_speed_ms, 0},
                     {"opening_drive", FIELD_MAP, false, 0, 0, &opening_drive, 0},
                     {"closing", FIELD_MAP, false, 0, 0, &closing, 0},
                     {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    read_closing(r, closing, a);
    a->trim_drive = drive_of(a->speed_ms, 0.0);
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

static void read_panels(reader *r, const node *list, venue *v) {
    if (!list) return;
    gradin_area *made = take(r, list->n_child, sizeof *made);
    gradin_drive *drive = take(r, list->n_child, sizeof *drive);
    gradin_load_limit *limit = take(r, list->n_child, sizeof *limit);
    double *top_deg = take(r, list->n_child, sizeof *top_deg);
    if (!made || !drive || !limit || !top_deg) return;
    for (int i = 0; i < list->n_child; i++) {
        const node *drive_at = NULL, *limit_at = NULL;
        double move_s = 0.0;
        top_deg[i] = NAN;
        READ(r, list->child[i], {"name", FIELD_TEXT, true, 0, 0, &made[i].name, 0},
             {"polygon", FIELD_POLYGON, true, 0, 0, &made[i].polygon, 0},
             {"stair_top_deg", FIELD_NUMBER, false, 0, 360, &top_deg[i], 0},
             {"move_s", FIELD_NUMBER, false, 0, 36000, &move_s, 0},
             {"load_limit", FIELD_MAP, false, 0, 0, &limit_at, 0},
             {"drive", FIELD_MAP, false, 0, 0, &drive_at, 0});
        drive[i] = drive_of_share(move_s);
        read_share_drive(r, drive_at, &drive[i]);
        read_load_limit(r, limit_at, &limit[i]);
    }
    v->panel_drive = drive;
    v->panel_limit = limit;
    v->panel_top_deg = top_deg;
    check_names(r, list, made, list->n_child, sizeof *made);
    v->panel = made;
    v->n_panel = list->n_child;
}

void venue_read_machines(reader *r, const node *machines, venue *v) {
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
    venue_read_house(r, crew, v);
    if (loads) venue_read_loads(r, loads, v);
}

/* Every drive in one list, then the rules that name them. */
static void list_machines(reader *r, const node *machines, venue *v) {
    const node *interlocks = machines ? map_get(machines, "interlocks") : NULL;
    if (venue_list_machines(r, v)) venue_read_interlocks(r, interlocks, v);
}

/* ---- the whole venue
 * ------------------------------------------------------------------------------- */

bool venue_read(reader *r, const char *path, venue *v) {
    const node *root = node_read(r, path), *any, *room = NULL, *facade = NULL, *machines = NULL;
    if (!root || !read_head(r, root, "gradin-venue-1")) return false;
    v->file = path;
    READ(r, root, {"format", FIELD_ANY, true, 0, 0, &any, 0},
         {"units", FIELD_ANY, true, 0, 0, &any, 0}, {"name", FIELD_TEXT, true, 0, 0, &v->name, 0},
         {"room", FIELD_MAP, true, 0, 0, &room, 0}, {"facade", FIELD_MAP, false, 0, 0, &facade, 0},
         {"machines", FIELD_MAP, false, 0, 0, &machines, 0});
    if (room) venue_read_room(r, room, v);
    if (facade) venue_read_facade(r, facade, v);
    v->house.power_kw = INFINITY;
    venue_read_loads(r, NULL, v);
    if (machines) venue_read_machines(r, machines, v);
    if (reader_status(r) == GRADIN_OK) list_machines(r, machines, v);
    if (reader_status(r) == GRADIN_OK) check_venue(r, v);
    return reader_status(r) == GRADIN_OK;
}
