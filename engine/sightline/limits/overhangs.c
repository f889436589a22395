/* Which rows lose the top of the arch's opening, or of a set piece, under an overhang.
 *
 * An overhang is structure whose underside is above the eye. The top is looked at in the middle of
 * its edge and near both ends; a seat loses it when one of these points is hidden by an overhang.
 * How high it sees there is found by halving with the engine's own segment test; for a straight
 * soffit edge it is e + (s - e) D/x (similar triangles). */
#include "base/use.h"
#include "gradin/sightline.h"
#include "model/complete.h"

#include <string.h>

enum { HALVINGS = 40, POINTS_A_TOP = 3 };

#define HEADER_ABOVE_M 0.5 /* above the focus: side panels of an arch stand on the floor */
#define INSET 0.05         /* of the edge, for the points near its ends */

typedef struct top_edge {
    const char *name;
    gradin_vec3 point_m[POINTS_A_TOP];
    double foot_m; /* from here it is looked at */
    gradin_top kind;
} top_edge;

typedef struct overhang_job {
    const gradin_model *model;
    const top_edge *top; /* [n_top] */
    int n_top;
    gradin_overhangs *found;
} overhang_job;

static double lowest_focus_m(const gradin_model *model) {
    double low_m = INFINITY;
    for (int a = 0; a < model->n_focus; a++)
        low_m = fmin(low_m, gradin_focus_lowest_m(&model->focus[a]));
    return low_m;
}

/* The middle line of a four-cornered plan along its longer side, or the middle and two corners. */
static void find_points(const gradin_solid *solid, double z_m, top_edge *top) {
    const gradin_vec2 *c = solid->polygon.corner_m;
    gradin_vec2 middle = gradin_polygon_centroid_m(solid->polygon), end[2] = {c[0], c[1]};
    if (solid->polygon.n_corner == 4) {
        bool first_is_long =
            hypot(c[1].x - c[0].x, c[1].y - c[0].y) > hypot(c[2].x - c[1].x, c[2].y - c[1].y);
        int i = first_is_long ? 1 : 0; /* the short sides are i..i+1 and i+2..i+3 */
        end[0] = (gradin_vec2){(c[i].x + c[i + 1].x) / 2.0, (c[i].y + c[i + 1].y) / 2.0};
        end[1] = (gradin_vec2){(c[i + 2].x + c[(i + 3) % 4].x) / 2.0,
                               (c[i + 2].y + c[(i + 3) % 4].y) / 2.0};
    }
    top->point_m[0] = (gradin_vec3){middle.x, middle.y, z_m};
    for (int k = 0; k < 2; k++)
        top->point_m[k + 1] = (gradin_vec3){end[k].x + 2.0 * INSET * (middle.x - end[k].x),
                                            end[k].y + 2.0 * INSET * (middle.y - end[k].y), z_m};
}

static int find_tops(const gradin_model *model, top_edge *top) {
    double low_m = lowest_focus_m(model);
    int n = 0;
    for (int i = 0; i < model->n_solid; i++) {
        const gradin_solid *s = &model->solid[i];
        bool is_header = s->kind == GRADIN_SOLID_ARCH && s->bottom_m > low_m + HEADER_ABOVE_M;
        if (!is_header && s->kind != GRADIN_SOLID_SET) continue;
        top[n] = (top_edge){.name = s->name,
                            .foot_m = is_header ? low_m : fmin(s->bottom_m, s->top_m),
                            .kind = is_header ? GRADIN_TOP_ARCH : GRADIN_TOP_SET};
        find_points(s, is_header ? s->bottom_m : s->top_m, &top[n++]);
    }
    return n;
}

/* The first overhang between eye and point, -1 when there is none; a thing does not overhang
 * itself. */
static int hidden_by(const overhang_job *job, const char *own, gradin_vec3 eye, gradin_vec3 point) {
    const gradin_model *m = job->model;
    for (int k = 0; k < m->scene.n_occluder; k++) {
        const gradin_occluder *o = &m->scene.occluder[k];
        if (o->cause != GRADIN_CAUSE_STRUCTURE || o->shape.kind != GRADIN_SHAPE_PRISM ||
            o->shape.as.prism.bottom_m <= eye.z || strcmp(m->occluder_name[o->name], own) == 0)
            continue;
        if (gradin_shape_hit(&o->shape, eye, point, NULL)) return k;
    }
    return -1;
}

/* Height seen at the point's place, from the foot of the thing up. */
static double seen_m(const overhang_job *job, const top_edge *top, gradin_vec3 eye,
                     gradin_vec3 point) {
    double seen = top->foot_m, hidden = point.z;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (seen + hidden);
        gradin_vec3 at = {point.x, point.y, middle};
        if (hidden_by(job, top->name, eye, at) < 0)
            seen = middle;
        else
            hidden = middle;
    }
    return seen;
}

static void look_at(const overhang_job *job, int seat, gradin_overhang_row *row) {
    gradin_vec3 eye = job->model->seats.eye_m[seat];
    bool lost[GRADIN_N_TOP] = {false};
    for (int i = 0; i < job->n_top; i++) {
        const top_edge *top = &job->top[i];
        for (int k = 0; k < POINTS_A_TOP; k++) {
            int by = hidden_by(job, top->name, eye, top->point_m[k]);
            double seen = by < 0 ? top->point_m[k].z : seen_m(job, top, eye, top->point_m[k]);
            lost[top->kind] |= by >= 0;
            if (!isnan(row->seen_m[top->kind]) && seen >= row->seen_m[top->kind]) continue;
            row->seen_m[top->kind] = seen;
            row->occluder[top->kind] = by;
        }
    }
    for (int t = 0; t < GRADIN_N_TOP; t++) row->n_lost[t] += lost[t];
}

static gradin_overhang_row *row_of(gradin_overhangs *found, int block, int row) {
    for (int i = 0; i < found->n_row; i++)
        if (found->row[i].block == block && found->row[i].row == row) return &found->row[i];
    gradin_overhang_row *made = &found->row[found->n_row++];
    *made = (gradin_overhang_row){
        .block = block, .row = row, .seen_m = {NAN, NAN}, .occluder = {-1, -1}};
    return made;
}

gradin_status gradin_overhangs_compute(gradin_arena *arena, const gradin_model *model,
                                       gradin_overhangs *overhangs, gradin_error *error) {
    if (NEEDS(error, arena, overhangs) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_seats *s = &model->seats;
    top_edge *top = gradin_arena_alloc(arena, (size_t)model->n_solid, sizeof *top);
    *overhangs = (gradin_overhangs){
        .row = gradin_arena_alloc(arena, (size_t)s->n_seat, sizeof *overhangs->row)};
    if (!top || !overhangs->row)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the overhangs");
    overhang_job job = {model, top, find_tops(model, top), overhangs};
    for (int i = 0; i < job.n_top; i++) overhangs->has[top[i].kind] = true;
    for (int i = 0; i < s->n_seat; i++) {
        gradin_overhang_row *row = row_of(overhangs, s->block[i], s->row[i]);
        row->n_seat++;
        if (s->row_label) row->row_label = s->row_label[i];
        look_at(&job, i, row);
    }
    return GRADIN_OK;
}
