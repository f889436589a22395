/* The facade of a venue: build-ups, shades, glazed bays, doors, vents. */
#include "files/venue_read.h"

#include <string.h>

enum { MAX_SHADE_LAYER = 8 };

static void read_shades(reader *r, const node *list, gradin_venue *v) {
    if (!list) return;
    gradin_shade *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) {
        const node *at = list->child[i], *any = NULL, *loss = NULL, *layers = NULL;
        const node *drive = NULL;
        double close_s = 0.0;
        READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &made[i].name, 0},
             {"insertion_loss_db", FIELD_LIST, false, 0, 0, &loss, 0},
             {"layers", FIELD_LIST, false, 0, 0, &layers, 0},
             {"absorption", FIELD_LIST, true, 0, 0, &any, 0},
             {"close_s", FIELD_NUMBER, true, 0, 36000, &close_s, 0},
             {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
        made[i].drive = gradin_drive_of_share(close_s);
        read_share_drive(r, drive, &made[i].drive);
        if (!loss && !layers) complain(r, at, "needs insertion_loss_db, layers, or both");
        made[i].is_by_layers = !loss;
        if (layers) read_layers(r, layers, MAX_SHADE_LAYER, &made[i].layer, &made[i].n_layer);
        read_spectrum(r, at, "insertion_loss_db", false, 0.0, 60.0, made[i].insertion_loss_db);
        read_spectrum(r, at, "absorption", false, 0.0, 1.0, made[i].absorption);
    }
    check_names(r, list, made, list->n_child, sizeof *made);
    v->shade = made;
    v->n_shade = list->n_child;
}

/* Layers alone say what a shade does only with the layers of the glass before it. */
static void check_shade(reader *r, const node *shade, const gradin_venue *v,
                        const gradin_facade_entry *e) {
    if (e->shade < 0 || e->buildup < 0) return;
    if (v->shade[e->shade].is_by_layers && !v->buildup[e->buildup].layer)
        complain(r, shade,
                 "is described by layers, build-up '%s' by a measurement alone; give the "
                 "shade insertion_loss_db",
                 v->buildup[e->buildup].name);
}

static void read_opening(reader *r, const node *at, const gradin_venue *v, gradin_facade_entry *e) {
    bool is_door = e->kind == GRADIN_ELEMENT_DOOR;
    const node *buildup = NULL, *shade = NULL, *drive = NULL;
    static const char *const exits[] = {"by_hand", "when_open", "no", NULL};
    double move_s = 0.0;
    int exit = GRADIN_EXIT_BY_HAND;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &e->name, 0},
         {"start", FIELD_POINT, true, 0, 0, &e->start_m, 0},
         {"bearing_deg", FIELD_NUMBER, true, 0, 360, &e->bearing_deg, 0},
         {"count", FIELD_INTEGER, !is_door, 1, GRADIN_MAX_BAY, &e->count, 0},
         {"width", FIELD_LENGTH, true, 0.1, 100, &e->width_m, 0},
         {"height", FIELD_LENGTH, true, 0.1, 100, &e->height_m, 0},
         {"sill", FIELD_LENGTH, true, -20, 100, &e->sill_m, 0},
         {"buildup", FIELD_NAME, true, 0, 0, &buildup, 0},
         {"joint_r_db", FIELD_NUMBER, false, 0, 90, &e->joint_r_db, 0},
         {"shade", FIELD_NAME, false, 0, 0, &shade, 0},
         {"move_s", FIELD_NUMBER, false, 0, 36000, &move_s, 0},
         {"exit", FIELD_CHOICE, false, 0, 0, &exit, exits},
         {"drive", FIELD_MAP, false, 0, 0, &drive, 0});
    e->exit = (gradin_exit)exit;
    e->drive = gradin_drive_of_share(move_s);
    read_share_drive(r, drive, &e->drive);
    if (!is_door && (drive || move_s > 0.0 || e->exit))
        complain(r, at, "is fixed glass; doors move");
    e->buildup = buildup
                     ? look_up(r, buildup, "build-up", v->buildup, v->n_buildup, sizeof *v->buildup)
                     : -1;
    e->shade = shade ? look_up(r, shade, "shade", v->shade, v->n_shade, sizeof *v->shade) : -1;
    check_shade(r, shade, v, e);
}

static void read_vent(reader *r, const node *at, gradin_facade_entry *e) {
    const node *any;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &e->name, 0},
         {"at", FIELD_POINT, true, 0, 0, &e->start_m, 0},
         {"height", FIELD_LENGTH, true, -20, 100, &e->sill_m, 0},
         {"dn_e_db", FIELD_LIST, true, 0, 0, &any, 0});
    read_spectrum(r, at, "dn_e_db", false, 0.0, 120.0, e->dn_e_db);
}

static void read_entries(reader *r, const node *list, gradin_element_kind kind, gradin_venue *v,
                         gradin_facade_entry *entry, int *n) {
    for (int i = 0; list && i < list->n_child; i++) {
        gradin_facade_entry *e = &entry[(*n)++];
        *e = gradin_facade_entry_defaults();
        e->kind = kind;
        e->at = &list->child[i]->place;
        if (kind == GRADIN_ELEMENT_VENT)
            read_vent(r, list->child[i], e);
        else
            read_opening(r, list->child[i], v, e);
    }
}

static int length_of(const node *list) {
    return list ? list->n_child : 0;
}

void venue_read_facade(reader *r, const node *facade, gradin_venue *v) {
    const node *buildups = NULL, *glazing = NULL, *doors = NULL, *vents = NULL, *shades = NULL;
    double temperature_c = GRADIN_GLAZING_TEMPERATURE_C;
    if (!READ(r, facade, {"buildups", FIELD_LIST, true, 0, 0, &buildups, 0},
              {"temperature_c", FIELD_NUMBER, false, GRADIN_GLAZING_LEAST_C, GRADIN_GLAZING_MOST_C,
               &temperature_c, 0},
              {"finite_panes", FIELD_FLAG, false, 0, 0, &v->has_finite_panes, 0},
              {"shades", FIELD_LIST, false, 0, 0, &shades, 0},
              {"glazing", FIELD_LIST, false, 0, 0, &glazing, 0},
              {"doors", FIELD_LIST, false, 0, 0, &doors, 0},
              {"vents", FIELD_LIST, false, 0, 0, &vents, 0}))
        return;
    read_buildups(r, buildups, r->c.file, temperature_c, &v->buildup, &v->n_buildup);
    read_shades(r, shades, v);
    int n = length_of(glazing) + length_of(doors) + length_of(vents);
    gradin_facade_entry *entry = alloc(&r->c, n, sizeof *entry);
    if (!entry) return;
    v->facade = entry;
    read_entries(r, glazing, GRADIN_ELEMENT_PANE, v, entry, &v->n_facade);
    read_entries(r, doors, GRADIN_ELEMENT_DOOR, v, entry, &v->n_facade);
    read_entries(r, vents, GRADIN_ELEMENT_VENT, v, entry, &v->n_facade);
    for (int i = 0; i < v->n_facade; i++)
        if (entry[i].name && index_of(entry, i, sizeof *entry, entry[i].name) >= 0)
            refuse(&r->c, entry[i].at, "has the name '%s' of another facade entry", entry[i].name);
}
