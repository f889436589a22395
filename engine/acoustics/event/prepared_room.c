/* A layout made ready for events: its transfer, and what its facade lets in by the state of its
 * shades. */
#include "acoustics/envelope/element.h"
#include "acoustics/envelope/keep_glass.h"
#include "acoustics/event/keep_incidence.h"
#include "acoustics/event/site.h"
#include "acoustics/event/uncertainty.h"
#include "acoustics/room/limits.h"
#include "acoustics/room/room.h"
#include "acoustics/transfer/transfer.h"
#include "base/use.h"
#include "model/complete.h"

#include <stdio.h>
#include <string.h>

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

void gradin_kept_room_clear(gradin_kept_room *kept) {
    if (!kept) return;
    gradin_transfer_forget(kept);
    gradin_kept_glass_destroy(kept->glass);
    gradin_kept_incidences_destroy(kept->incidences);
    kept->glass = NULL;
    kept->incidences = NULL;
}

/* What can be kept without memory for it is made anew each time. */
static void keep_incidences(gradin_kept_room *kept, gradin_prepared_room *room) {
    if (!kept) return;
    if (!kept->incidences) kept->incidences = gradin_kept_incidences_create();
    gradin_kept_incidences_sweep(kept->incidences);
    room->incidences = kept->incidences;
}

static bool is_element_good(const gradin_model *model, const gradin_element *element) {
    bool is_vent = element->kind == GRADIN_ELEMENT_VENT;
    return (is_vent || gradin_element_is_opaque(element) ||
            (element->buildup >= 0 && element->buildup < model->n_buildup)) &&
           element->shade < model->n_shade;
}

static gradin_status check_use(const gradin_arena *arena, const gradin_model *model,
                               const gradin_prepared_room *room, gradin_error *error) {
    if (!arena || !model || !room || model->n_element < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "traffic needs a room with a facade: the venue states none");
    if (model->footprint.n_corner < 3)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the room needs a footprint");
    for (int e = 0; e < model->n_element; e++)
        if (!is_element_good(model, &model->element[e]))
            return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                    "facade element %d names a build-up or shade that is not there",
                                    e);
    return GRADIN_OK;
}

/* What the facade lets in and how long the room rings, by the state of its shades. */
static gradin_status let_in_by(gradin_arena *arena, gradin_prepared_room *room,
                               gradin_error *error) {
    const gradin_model *model = room->model;
    gradin_room_field field;
    room->tau_m2 = gradin_arena_alloc(arena, (size_t)model->n_element, sizeof room->tau_m2[0]);
    room->passed_m2 = gradin_arena_alloc(arena, (size_t)model->n_element, sizeof *room->passed_m2);
    if (!room->tau_m2 || !room->passed_m2) return out_of_memory(error);
    for (int e = 0; e < model->n_element; e++) {
        const gradin_element *element = &model->element[e];
        gradin_element_tau_m2(model, element, &room->glass[e], room->shades, room->tau_m2[e]);
        gradin_element_passed_m2(model, element, &room->glass[e], room->shades, room->passed_m2[e]);
    }
    gradin_status status = gradin_room_field_make(model, room->shades, &field, error);
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++)
        room->reverberation_s[b] = field.reverberation_s[field.main_side][b];
    return status;
}

static gradin_status add_glass(gradin_arena *arena, gradin_kept_room *kept,
                               gradin_prepared_room *room, gradin_glass **glass,
                               gradin_error *error) {
    *glass = gradin_arena_alloc(arena, (size_t)room->model->n_element, sizeof **glass);
    if (!*glass) return out_of_memory(error);
    room->glass = *glass;
    if (kept && !kept->glass) kept->glass = gradin_kept_glass_create();
    return gradin_glass_make(arena, room->model, kept ? kept->glass : NULL, *glass, error);
}

static gradin_status add_transfer(gradin_arena *arena, const char *cache_folder,
                                  gradin_kept_room *kept, gradin_prepared_room *room,
                                  gradin_error *error) {
    size_t n_element = (size_t)room->model->n_element;
    gradin_transfer *transfer = gradin_arena_alloc(arena, 1, sizeof *transfer);
    room->heard_1m2 = gradin_arena_alloc(arena, n_element, sizeof room->heard_1m2[0]);
    if (!transfer || !room->heard_1m2) return out_of_memory(error);
    gradin_status status =
        kept ? gradin_transfer_take(kept, arena, room->model, cache_folder, transfer, error)
             : gradin_transfer_make(arena, room->model, gradin_transfer_form_of(room->model),
                                    cache_folder, transfer, error);
    if (status != GRADIN_OK) return status;
    room->transfer = transfer;
    room->n_patch = transfer->n_patch;
    room->is_kept_one = transfer->is_kept_one;
    memcpy(room->cache_note, transfer->cache_note, sizeof room->cache_note);
    return gradin_transfer_heard(transfer, GRADIN_SHADES_AS_SET, room->heard_1m2, error);
}

/* Measured reverberation: by how much what is stated of the surfaces is scaled. */
static void tell_factors(gradin_prepared_room *room) {
    char *note = room->room_note, number[24];
    size_t size = sizeof room->room_note, at = strlen(note);
    at += (size_t)snprintf(note + at, size - at,
                           "%sreverberation as measured: stated absorption times",
                           at > 0 ? "; " : "");
    for (int o = 1; o < GRADIN_N_OCTAVE && at < size; o++) {
        gradin_format_fixed(number, sizeof number, room->transfer->factor[3 * o + 1], 2);
        at += (size_t)snprintf(note + at, size - at, "%s %s at %d Hz", o > 1 ? "," : "", number,
                               gradin_octave_nominal_hz(o));
    }
}

gradin_status gradin_room_prepare_kept(gradin_arena *arena, const gradin_model *model,
                                       const char *cache_folder, gradin_kept_room *kept,
                                       gradin_prepared_room *room, gradin_error *error) {
    if (NEEDS(error, arena, room) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_status status = check_use(arena, model, room, error);
    if (status != GRADIN_OK) return status;
    *room =
        (gradin_prepared_room){.model = model, .uncertainty_source = gradin_uncertainty_source()};
    gradin_glass *glass = NULL;
    double beyond_db = 0.0;
    keep_incidences(kept, room);
    if (model->room_method == GRADIN_ROOM_DIFFUSE) status = gradin_diffuse_refuse(model, error);
    if (status == GRADIN_OK) status = add_glass(arena, kept, room, &glass, error);
    if (status == GRADIN_OK) status = let_in_by(arena, room, error);
    if (status == GRADIN_OK) status = add_transfer(arena, cache_folder, kept, room, error);
    if (status == GRADIN_OK && model->room_method == GRADIN_ROOM_DIFFUSE)
        status = gradin_diffuse_note(model, room->room_note, &beyond_db, error);
    if (status == GRADIN_OK && model->reverberation) tell_factors(room);
    if (status == GRADIN_OK) gradin_uncertainty_prepare(room, beyond_db);
    if (status != GRADIN_OK || !model->site) return status;
    gradin_site_correct(room, glass);
    return let_in_by(arena, room, error);
}

gradin_status gradin_room_prepare(gradin_arena *arena, const gradin_model *model,
                                  const char *cache_folder, gradin_prepared_room *room,
                                  gradin_error *error) {
    return gradin_room_prepare_kept(arena, model, cache_folder, NULL, room, error);
}

gradin_status gradin_room_shade(gradin_arena *arena, const gradin_prepared_room *room,
                                gradin_shade_state shades, gradin_prepared_room *shaded,
                                gradin_error *error) {
    if (NEEDS(error, arena, room, shaded) != GRADIN_OK ||
        NEEDS(error, room->transfer) != GRADIN_OK ||
        model_complete(room->model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!gradin_transfer_has(room->transfer, shades))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the room was kept with its shades as they are set alone");
    *shaded = *room;
    shaded->shades = shades;
    shaded->heard_1m2 = NULL;
    return let_in_by(arena, shaded, error);
}
