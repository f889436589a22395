/* sightline/view/view.h: what stands in a room for a picture, and where rays meet it. */
#ifndef GRADIN_SIGHTLINE_VIEW_H
#define GRADIN_SIGHTLINE_VIEW_H

#include "gradin/studies/view.h"
#include "sightline/focus/focus.h"

/* A shape of the picture: the model's occluders in their order, then what is drawn besides. */
typedef struct view_label {
    uint8_t thing;
    int32_t what;
} view_label;

typedef struct view_room {
    gradin_arena *arena;
    const gradin_model *model;
    gradin_occluder *occluder; /* [n] */
    view_label *label;         /* [n] */
    int n, capacity, label_capacity;
    int n_counted;                /* the model's own */
    gradin_mask_scene *all, *own; /* trees of all shapes, and of the model's own */
    gradin_vec2 (*pit_m)[4];      /* [n_pit] lift sections below the floor */
    int n_pit;
    double far_m; /* beyond all that can be met */
} view_room;

/* A floor of the focus in the air, such as faces: it is looked through. */
static inline bool view_hangs(const gradin_focus *f) {
    return f->kind == GRADIN_FOCUS_FLOOR && f->over_floor_m > GRADIN_FOCUS_OVER_M;
}

/* room.c: false when out of memory. */
bool view_room_build(gradin_arena *arena, const gradin_model *model, const sight_focus *focus,
                     const gradin_view *view, view_room *room);
/* furnish.c: adds what is drawn besides; false when out of memory. */
bool view_furnish(view_room *room, const gradin_view *view);
/* add.c */
bool view_add(view_room *room, gradin_shape shape, int owner, gradin_view_thing thing, int what);

/* surface.c: unit normal of a shape at a point of its surface, turned against the way. */
gradin_vec3 view_normal(const gradin_shape *shape, gradin_vec3 at_m, gradin_vec3 way);

/* meet.c: one ray. */
typedef struct view_tally {
    double seen_m2[GRADIN_MAX_FOCUS], hidden_m2[GRADIN_MAX_FOCUS];
} view_tally;

/* The way lies inside the beam; `solid_sr` is what the ray stands for; tally may be NULL. */
gradin_view_sample view_meet(const view_room *room, const gradin_view *view, gradin_beam *beam,
                             gradin_vec3 way, double solid_sr, view_tally *tally);

/* camera.c: where the picture looks; the solid angle of a pixel. */
void view_aim(const gradin_model *model, const gradin_view_options *options, gradin_view *view);
double view_solid_sr(const gradin_view *view, double x_px, double y_px);
/* Pixels from (x, y) to before (x_end, y_end). */
typedef struct view_block {
    int x, y, x_end, y_end;
} view_block;
/* Corners of a pyramid from the eye that holds all rays through the block, in order round it. */
void view_corners(const gradin_view *view, view_block block, gradin_vec3 way[4]);

#endif
