/* transfer/transfer.h: from the power that each facade element lets in to the mean square pressure
 * at each seat, in factors that are small.
 *
 * p^2/(W rho c) = direct[seat][element] + reverberant; the reverberant part is one number per band
 * and pair of sides of the room (diffuse), per band, seat and element (few elements among many
 * patches), or per seat and patch times per band, patch and element. */
#ifndef GRADIN_TRANSFER_TRANSFER_H
#define GRADIN_TRANSFER_TRANSFER_H

#include "acoustics/bands/bands.h"
#include "gradin/acoustics/event.h"

typedef enum gradin_transfer_form {
    GRADIN_TRANSFER_BY_SIDE,    /* diffuse */
    GRADIN_TRANSFER_BY_ELEMENT, /* radiosity, whole */
    GRADIN_TRANSFER_BY_PATCH    /* radiosity, in its two factors */
} gradin_transfer_form;

/* States of the shades may share one array. */
typedef struct gradin_transfer {
    int n_seat, n_element, n_patch; /* n_patch 0 when diffuse */
    gradin_transfer_form form;
    /* by side and by patch: [n_seat][n_element], no band in it */
    double *direct_1m2;
    /* by side: of each seat and element, and [listener's side][source's side][band] */
    int *seat_side, *element_side;
    double side_1m2[GRADIN_N_SHADE_STATE][2][2][GRADIN_N_BAND];
    /* by element: [GRADIN_N_BAND][n_seat][n_element], direct part included */
    double *whole_1m2[GRADIN_N_SHADE_STATE];
    /* by patch: solid angle over pi [n_seat][n_patch], eyes [n_seat], middles [n_patch][3], energy
       that air takes, and what patches send back [GRADIN_N_BAND][n_element][n_patch] */
    double *seen;
    const gradin_vec3 *eye_m;
    double *patch_m;
    double air_1m[GRADIN_N_BAND];
    double *emission_1m2[GRADIN_N_SHADE_STATE];
    double *factor;   /* [GRADIN_N_BAND] on the stated absorption, by a measured reverberation */
    bool is_kept_one; /* read from the cache folder */
    char cache_note[GRADIN_TEXT_CHARS]; /* why it could not be kept there, or "" */
} gradin_transfer;

/* Is there such a state of the shades, and was it worked out? */
static inline bool gradin_transfer_has(const gradin_transfer *transfer, gradin_shade_state state) {
    if ((int)state < 0 || state >= GRADIN_N_SHADE_STATE) return false;
    return transfer->form == GRADIN_TRANSFER_BY_SIDE || transfer->whole_1m2[state] ||
           transfer->emission_1m2[state];
}

/* Place in whole_1m2. */
static inline size_t gradin_transfer_at(const gradin_transfer *transfer, int band, int seat,
                                        int element) {
    return ((size_t)band * (size_t)transfer->n_seat + (size_t)seat) * (size_t)transfer->n_element +
           (size_t)element;
}

/* Powers [element][band][time] and their A-weighted sums [element][time], with what they feed into
 * the room, gradin_transfer_feed_size() values. */
typedef struct gradin_powers {
    int n_time;
    double *let_in, *let_in_a, *fed;
} gradin_powers;

/* By the model's room method. Radiosity looks into the cache folder first (NULL: none) and keeps
 * there what it computes; a cache that fails costs time, no result. `form` forces one form of
 * radiosity; gradin_transfer_form_of() is the one to take. The same for any number of threads.
 * GRADIN_BAD_INPUT when the room makes too many patches or needs more than
 * GRADIN_MAX_TRANSFER_BYTES. */
gradin_status gradin_transfer_make(gradin_arena *arena, const gradin_model *model,
                                   gradin_transfer_form form, const char *cache_folder,
                                   gradin_transfer *transfer, gradin_error *error);
/* The same with the state as set alone where that takes less; the others stay NULL. What it takes
 * into a cache folder, or from there, has all of them. */
gradin_status gradin_transfer_make_states(gradin_arena *arena, const gradin_model *model,
                                          gradin_transfer_form form, const char *cache_folder,
                                          bool is_as_set_only, gradin_transfer *transfer,
                                          gradin_error *error);
/* Only whether the model's would be refused. */
gradin_status gradin_transfer_refuse(gradin_arena *arena, const gradin_model *model,
                                     gradin_error *error);
/* keep.c: the one that `kept` holds when this model's would be the same, or one made and kept
 * there; without radiosity it is made anew each time. */
gradin_status gradin_transfer_take(gradin_kept_room *kept, gradin_arena *arena,
                                   const gradin_model *model, const char *cache_folder,
                                   gradin_transfer *transfer, gradin_error *error);
/* Frees the field that is kept, nothing else. */
void gradin_transfer_forget(gradin_kept_room *kept);
gradin_transfer_form gradin_transfer_form_of(const gradin_model *model);
/* Bytes that a transfer keeps. */
double gradin_transfer_bytes(gradin_transfer_form form, int n_seat, int n_element, int n_patch,
                             int n_state);
/* States that differ: with no shade half way the layout's own state is one of the other two. */
gradin_shade_state gradin_shade_twin(const gradin_model *model, gradin_shade_state state);

size_t gradin_transfer_feed_size(const gradin_transfer *transfer, int n_time);
void gradin_transfer_feed(const gradin_transfer *transfer, gradin_shade_state state,
                          gradin_powers *powers);
/* Values of scratch that each call below needs for n_seat seats. */
size_t gradin_transfer_scratch(const gradin_transfer *transfer, int n_seat);
/* Mean squares at n_seat seats from `from` on: square[n_seat][GRADIN_N_BAND][n_time]. */
void gradin_transfer_hear(const gradin_transfer *transfer, gradin_shade_state state,
                          const gradin_powers *powers, int from, int n_seat, double *square,
                          double *scratch);
/* The same A-weighted: square[n_seat][n_time]. */
void gradin_transfer_hear_a(const gradin_transfer *transfer, gradin_shade_state state,
                            const gradin_powers *powers, int from, int n_seat, double *square,
                            double *scratch);
/* The factors themselves in one band: h_1m2[n_seat][n_element]. */
void gradin_transfer_rows(const gradin_transfer *transfer, gradin_shade_state state, int band,
                          int from, int n_seat, double *h_1m2, double *scratch);
/* Sum over all seats, sum_1m2[n_element][GRADIN_N_BAND]. */
gradin_status gradin_transfer_heard(const gradin_transfer *transfer, gradin_shade_state state,
                                    double (*sum_1m2)[GRADIN_N_BAND], gradin_error *error);

#endif
