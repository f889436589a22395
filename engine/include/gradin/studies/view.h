/* gradin/studies/view.h: what one seat looks at, ray by ray. The occluders and the eye are those of
 * the table of seats; what is drawn besides (floor, walls, glass, seats, figures) hides nothing of
 * the focus. Part of the sightline room.
 *
 * Ownership and threads: Results live in the arena that is given and point into the model, which
 * must outlive them; computations of different arenas may run in different threads. */
#ifndef GRADIN_VIEW_H
#define GRADIN_VIEW_H

#include "gradin/model.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_VIEW_LEAST_PX = 64, GRADIN_VIEW_MOST_PX = 4096, GRADIN_VIEW_FINE = 4 };

/* Height of the figures for scale, and the side of the squares on the floors of the focus. */
#define GRADIN_VIEW_FIGURE_M 1.7
#define GRADIN_VIEW_SQUARE_M 1.0

typedef enum gradin_view_thing {
    GRADIN_VIEW_NOTHING, /* out of the room */
    GRADIN_VIEW_FLOOR,
    GRADIN_VIEW_CEILING,
    GRADIN_VIEW_WALL,
    GRADIN_VIEW_GLASS,
    GRADIN_VIEW_SHADE,
    GRADIN_VIEW_DOOR,
    GRADIN_VIEW_FOCUS,  /* a floor of the focus that is seen; what: its area */
    GRADIN_VIEW_FIGURE, /* for scale; what: its number */
    GRADIN_VIEW_POINT,  /* of the focus, as a ball; what: its area */
    GRADIN_VIEW_CHAIR,  /* these two hide nothing in the count; what: seat */
    GRADIN_VIEW_CHEST,
    GRADIN_VIEW_HEAD, /* these three are counted; what: seat */
    GRADIN_VIEW_NECK,
    GRADIN_VIEW_SHOULDERS,
    GRADIN_VIEW_RAIL,  /* bars and posts; these four: what is an index into model->occluder_name */
    GRADIN_VIEW_PANEL, /* of a rail */
    GRADIN_VIEW_STRUCTURE,
    GRADIN_VIEW_ARCH,
    GRADIN_N_VIEW_THING
} gradin_view_thing;

/* What a ray meets first. */
typedef struct gradin_view_sample {
    float distance_m; /* INFINITY for NOTHING */
    float normal[3];  /* unit, towards the eye */
    int32_t what;
    uint8_t thing;  /* gradin_view_thing */
    bool is_hidden; /* the ray goes to a point of the focus that this hides */
    bool is_sheer;  /* an area of the focus that hangs in the air is seen on the way */
} gradin_view_sample;

typedef struct gradin_view_options {
    int width_px, height_px; /* 0: 1280 by 800 */
    double fov_deg;          /* across the picture: 20..120, panorama 60..360; 0: 70, 180 */
    bool is_panorama;        /* on a cylinder about the upright through the eye */
} gradin_view_options;

typedef struct gradin_view {
    const gradin_model *model;
    int seat;
    int width_px, height_px;
    double fov_deg;
    bool is_panorama;
    gradin_vec3 eye_m, ahead, right, up; /* unit; a panorama's `ahead` is level */
    double step, shift;                  /* of the picture plane per pixel; its middle */
    double turn_deg;                     /* of the picture's middle from the seat's facing, right */
    double down_deg;                     /* below the horizon */

    gradin_view_sample *sample; /* [height_px][width_px] through the middles of the pixels */
    int n_fine;                 /* pixels in which different things meet */
    int32_t *fine_pixel;        /* [n_fine] index into sample, rising */
    gradin_view_sample *fine;   /* [n_fine][GRADIN_VIEW_FINE], see gradin_view_fine_at */

    gradin_vec2 *square_origin_m; /* [model->n_focus] a corner of the squares, on plan, */
    gradin_vec2 *square_along;    /* [model->n_focus] and the way they run */

    /* By the table's own samples. */
    double visible, hidden[GRADIN_N_CAUSE];
    double *area_visible; /* [model->n_focus] */
    int worst_occluder;   /* as in gradin_sight */
    double worst_hidden;
    double distance_m; /* from the eye to the middle of the focus */

    /* By the pixels, each by the area that it covers; a point of the focus by one ray. */
    double *area_in_picture; /* [model->n_focus] part of the area that lies in the picture */
    double *area_seen;       /* [model->n_focus] seen part of what lies in the picture; NAN: none */
    double in_picture, seen; /* of the focus by its weights; seen: NAN when none lies in it */
} gradin_view;

enum { GRADIN_MAX_VIEW = 12 };

/* A view of a sheet and why it is there. */
typedef struct gradin_view_entry {
    const gradin_view *view;
    const char *title;
} gradin_view_entry;

/* GRADIN_BAD_USE for options out of their ranges or no such seat. options may be NULL. The same for
 * any thread count. */
GRADIN_API gradin_status gradin_view_compute(gradin_arena *arena, const gradin_model *model,
                                             int seat, const gradin_view_options *options,
                                             gradin_view *view, gradin_error *error);

/* Where in its pixel a fine sample lies, 0..1 from the upper left. */
static inline gradin_vec2 gradin_view_fine_at(int k) {
    gradin_vec2 at = {0.125 + 0.25 * (k == 0 ? 1 : k == 1 ? 3 : k == 2 ? 0 : 2), 0.125 + 0.25 * k};
    return at;
}

/* The unit vector of the ray through a place of the picture, in pixels from its upper left. */
static inline gradin_vec3 gradin_view_way(const gradin_view *v, double x_px, double y_px) {
    double x = (x_px - 0.5 * v->width_px) * v->step, y = (0.5 * v->height_px - y_px) * v->step;
    gradin_vec3 aside = gradin_scale(v->right, v->is_panorama ? sin(x) : x);
    gradin_vec3 way = gradin_add(gradin_scale(v->ahead, v->is_panorama ? cos(x) : 1.0),
                                 gradin_add(aside, gradin_scale(v->up, y + v->shift)));
    return gradin_scale(way, 1.0 / gradin_norm(way));
}

#ifdef __cplusplus
}
#endif

#endif
