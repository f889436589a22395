/* The room of a venue: footprint, absorption, standing solids, its own local rules. */
#include "files/mesh.h"
#include "files/venue_read.h"

#include <string.h>

enum { N_ABSORBER_OCTAVE = 6 };

void spread_octaves(const double octave[6], double band[GRADIN_N_BAND]) {
    /* Thirds 50, 63, 80 belong to the 63 Hz octave, which absorption tables do not give. */
    for (int b = 0; b < GRADIN_N_BAND; b++) band[b] = octave[b < 3 ? 0 : b / 3 - 1];
}

bool read_spectrum(reader *r, const node *map, const char *key, bool is_required, double least,
                   double most, double band[GRADIN_N_BAND]) {
    const node *at = map_get(map, key);
    if (!at) {
        if (is_required)
            complain_key(r, map, key, "is missing; 6 octaves 125-4000 Hz or 21 thirds 50-5000 Hz");
        return false;
    }
    double value[GRADIN_N_BAND];
    int n = 0;
    if (!read_numbers(r, at, N_ABSORBER_OCTAVE, GRADIN_N_BAND, least, most, 1.0, value, &n))
        return false;
    if (n != N_ABSORBER_OCTAVE && n != GRADIN_N_BAND) {
        complain(r, at, "has %d values; 6 octaves 125-4000 Hz or 21 thirds 50-5000 Hz are needed",
                 n);
        return false;
    }
    if (n == N_ABSORBER_OCTAVE)
        spread_octaves(value, band);
    else
        memcpy(band, value, sizeof value);
    return true;
}

/* A round column becomes a 16-sided prism of the same radius to its corners. */
static bool round_polygon(reader *r, gradin_vec2 centre_m, double diameter_m, gradin_polygon *out) {
    enum { N_SIDE = 16 };
    gradin_vec2 *corner = alloc(&r->c, N_SIDE, sizeof *corner);
    if (!corner) return false;
    for (int i = 0; i < N_SIDE; i++) {
        gradin_vec2 unit = gradin_bearing_unit(360.0 * i / N_SIDE);
        corner[i] = (gradin_vec2){centre_m.x + unit.x * diameter_m / 2.0,
                                  centre_m.y + unit.y * diameter_m / 2.0};
    }
    *out = (gradin_polygon){corner, N_SIDE};
    return true;
}

static bool read_solid(reader *r, const node *at, gradin_solid *solid) {
    static const char *const kinds[] = {"column", "slab", "wall", "set", "mesh", NULL};
    const node *kind_at = at->kind == NODE_MAP ? map_get(at, "kind") : NULL;
    if (kind_at && kind_at->kind == NODE_TEXT && strcmp(kind_at->text, "mesh") == 0)
        return read_mesh_solid(r, at, solid);
    int kind = GRADIN_SOLID_COLUMN;
    gradin_vec2 centre_m = {NAN, NAN};
    double diameter_m = 0.0;
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &solid->name, 0},
              {"kind", FIELD_CHOICE, true, 0, 0, &kind, kinds},
              {"polygon", FIELD_POLYGON, false, 0, 0, &solid->polygon, 0},
              {"centre", FIELD_POINT, false, 0, 0, &centre_m, 0},
              {"diameter", FIELD_LENGTH, false, 0.01, 20.0, &diameter_m, 0},
              {"bottom", FIELD_LENGTH, true, -100.0, 200.0, &solid->bottom_m, 0},
              {"top", FIELD_LENGTH, true, -100.0, 200.0, &solid->top_m, 0},
              {"mass_kg", FIELD_NUMBER, false, 0.0, 1e6, &solid->mass_kg, 0},
              {"carries_kn", FIELD_NUMBER, false, 0.0, 1e4, &solid->carries_kn, 0}))
        return false;
    solid->kind = (gradin_solid_kind)kind;
    bool is_round = diameter_m > 0.0 && !isnan(centre_m.x);
    if (is_round == (solid->polygon.n_corner > 0)) {
        complain(r, at, "needs either polygon, or centre and diameter");
        return false;
    }
    if (solid->top_m <= solid->bottom_m) {
        complain_key(r, at, "top", "must be above bottom");
        return false;
    }
    return !is_round || round_polygon(r, centre_m, diameter_m, &solid->polygon);
}

bool read_solids(reader *r, const node *list, const gradin_solid **solid, int *n_solid) {
    *n_solid = 0;
    if (!list) return true;
    int before = r->c.n_error;
    gradin_solid *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < list->n_child; i++) read_solid(r, list->child[i], &made[i]);
    if (r->c.n_error == before) check_names(r, list, made, list->n_child, sizeof *made);
    *solid = made;
    *n_solid = list->n_child;
    return r->c.n_error == before;
}

static void read_extra(reader *r, const node *list, gradin_venue *v) {
    if (!list) return;
    gradin_surface *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) {
        const node *at = list->child[i], *absorption;
        double area = 0.0;
        READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &made[i].name, 0},
             {"area", FIELD_NUMBER, true, 0.0, 1e6, &area, 0},
             {"absorption", FIELD_LIST, true, 0, 0, &absorption, 0});
        made[i].area_m2 = area * r->unit_m * r->unit_m;
        read_spectrum(r, at, "absorption", false, 0.0, 1.0, made[i].absorption);
    }
    v->extra = made;
    v->n_extra = list->n_child;
}

/* What the venue's own code says; gradin knows no code. */
static void read_rules(reader *r, const node *rules, gradin_venue *v) {
    gradin_local_rules *own = &v->rules;
    READ(r, rules, {"rail_min", FIELD_LENGTH, true, 0.3, 2.0, &v->rail_min_m, 0},
         {"guard_drop", FIELD_LENGTH, false, 0.05, 5.0, &own->guard_drop_m, 0},
         {"row_seats_one_aisle", FIELD_INTEGER, false, 1, 200, &own->row_one_aisle, 0},
         {"row_seats_two_aisles", FIELD_INTEGER, false, 1, 400, &own->row_two_aisles, 0},
         {"exit_mm_person", FIELD_NUMBER, false, 0.1, 100, &own->exit_mm_person, 0});
}

void venue_read_room(reader *r, const node *room, gradin_venue *v) {
    const node *absorption = NULL, *extra = NULL, *solids = NULL, *rules = NULL, *each;
    READ(r, room, {"footprint", FIELD_POLYGON, true, 0, 0, &v->footprint, 0},
         {"ceiling", FIELD_LENGTH, true, 2.0, 100.0, &v->ceiling_m, 0},
         {"absorption", FIELD_MAP, true, 0, 0, &absorption, 0},
         {"extra_absorption", FIELD_LIST, false, 0, 0, &extra, 0},
         {"solids", FIELD_LIST, false, 0, 0, &solids, 0},
         {"local_rules", FIELD_MAP, true, 0, 0, &rules, 0});
    if (absorption) {
        READ(r, absorption, {"floor", FIELD_LIST, true, 0, 0, &each, 0},
             {"ceiling", FIELD_LIST, true, 0, 0, &each, 0},
             {"walls", FIELD_LIST, true, 0, 0, &each, 0},
             {"seating", FIELD_LIST, true, 0, 0, &each, 0});
        read_spectrum(r, absorption, "floor", false, 0.0, 1.0, v->floor_absorption);
        read_spectrum(r, absorption, "ceiling", false, 0.0, 1.0, v->ceiling_absorption);
        read_spectrum(r, absorption, "walls", false, 0.0, 1.0, v->wall_absorption);
        read_spectrum(r, absorption, "seating", false, 0.0, 1.0, v->seating_absorption);
    }
    if (rules) read_rules(r, rules, v);
    read_extra(r, extra, v);
    read_solids(r, solids, &v->solid, &v->n_solid);
}
