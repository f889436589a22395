/* gradin/studies/outlook.h: what glass lets through to the eye. Which parts of the focus and which
 * seats can be seen from points outside, and how much of each seat's outlook is open glass. Part of
 * the sightline room.
 *
 * Ownership and threads: Results live in the arena that is given and point into the model and the
 * points, which must outlive them; computations of different arenas may run in different threads.
 */
#ifndef GRADIN_OUTLOOK_H
#define GRADIN_OUTLOOK_H

#include "gradin/model.h"
#include "gradin/studies/outside.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A person's outline is head, neck and shoulders of the model's body as the outside point sees
 * them. The bounds are ours; nobody publishes any. */
typedef enum gradin_seen {
    GRADIN_SEEN_HIDDEN, /* nothing of the outline */
    GRADIN_SEEN_PARTLY, /* something of it, but less than half of the head */
    GRADIN_SEEN_HEAD,   /* half of the head or more */
    GRADIN_N_SEEN
} gradin_seen;

GRADIN_API const char *gradin_seen_name(gradin_seen seen); /* "hidden", "partly", "seen" */

#define GRADIN_SEEN_HEAD_LEAST 0.5

typedef struct gradin_outlook_options {
    bool are_shades_up; /* every shade is taken as up, however the layout sets it */
} gradin_outlook_options;

/* Glass counts as open where no shade is before it; a shade that is partly shut hangs over the
 * upper part. Fractions are 0..1; NAN where a figure does not apply. */
typedef struct gradin_outlook {
    const gradin_model *model;
    const gradin_outside *outside;
    bool are_shades_up;
    double glass_m2, open_m2; /* glazing, glazed doors and doorways that stand open; what of that
                                 lets see through */
    int n_leaning;            /* leaning panes, which count by their picture on wall or roof */
    int n_seat, n_area, n_point;

    /* Seats: [n_seat]. */
    double *open_glass;  /* share of the half sphere ahead that is open glass and seen */
    double *glass_ahead; /* the same with nothing in the way */
    int *n_seen_from;    /* points from which the seat is seen or partly seen */
    double median, most; /* of open_glass; NAN without seats */
    int most_seat;       /* that has most; -1 without seats */

    /* Points: [n_point]. */
    double *away_m; /* to the nearest wall, on plan */
    int *n_seen;    /* [n_point][GRADIN_N_SEEN] seats by that */

    /* What a point sees of each seat: [n_point][n_seat]. */
    double *head, *outline; /* share that is seen */
    double *turn_deg; /* between the way the seat faces and the point, on plan: 0 is its face */
    gradin_seen *seen;

    /* What a point sees of the focus: [n_point][n_area]. */
    double *area;     /* share of it */
    double *standing; /* floors: share of it where somebody who stands there is seen: a point of the
                         body at the standing eyes, or three quarters or half as high */

    /* Where those lie: [n_spot] samples of all areas, a floor's at the height of standing eyes. */
    int n_spot;
    int *first_spot;           /* [n_area + 1] */
    const gradin_vec3 *spot_m; /* [n_spot] */
    bool *is_spot_seen;        /* [n_point][n_spot] */
} gradin_outlook;

/* GRADIN_BAD_INPUT for a point inside the room, without a name, or of a name that is there twice.
 * options may be NULL: shades as the layout sets them. The same for any thread count. */
GRADIN_API gradin_status gradin_outlook_compute(gradin_arena *arena, const gradin_model *model,
                                                const gradin_outside *outside,
                                                const gradin_outlook_options *options,
                                                gradin_outlook *outlook, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
