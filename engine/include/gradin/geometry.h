/* gradin/geometry.h: plan polygons, analytic shapes, segment tests, sampling, visibility of a set
 * of points from one eye. Knows no word of venues: causes and owners are plain integers.
 *
 * Ownership and threads: Polygons and scenes point to arrays of the caller, which must outlive
 * them; everything may run in several threads as long as each has scratch and arena of its own, but
 * gradin_simd_use() is for the whole process. */
#ifndef GRADIN_GEOMETRY_H
#define GRADIN_GEOMETRY_H

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Plan polygons. */

/* A simple polygon, either winding, not closed (last corner != first). The corners belong to the
 * caller. */
typedef struct gradin_polygon {
    const gradin_vec2 *corner_m; /* [n_corner] */
    int n_corner;                /* >= 3 */
} gradin_polygon;

typedef struct gradin_box2 {
    double x_min_m, y_min_m, x_max_m, y_max_m;
} gradin_box2;

GRADIN_API double gradin_polygon_area_m2(gradin_polygon polygon); /* >= 0 */
GRADIN_API double gradin_polygon_perimeter_m(gradin_polygon polygon);
GRADIN_API gradin_vec2 gradin_polygon_centroid_m(gradin_polygon polygon);
GRADIN_API gradin_box2 gradin_polygon_bounds(gradin_polygon polygon);
/* Interior or boundary (within 1e-9 m). */
GRADIN_API bool gradin_polygon_contains(gradin_polygon polygon, gradin_vec2 point_m);
/* No two edges cross and no corner repeats. */
GRADIN_API bool gradin_polygon_is_simple(gradin_polygon polygon);
/* No corner turns inwards; straight ones may. */
GRADIN_API bool gradin_polygon_is_convex(gradin_polygon polygon);
/* The same corners within slack_m, from whichever corner and whichever way round they are listed;
 * two without corners are the same. */
GRADIN_API bool gradin_polygon_is_same(gradin_polygon a, gradin_polygon b, double slack_m);
/* Convex hull of point_m[n], n >= 1, which gets sorted; hull_m[n + 1] gets the corners,
 * counter-clockwise. Returns how many: 2 when all points lie on one line. */
GRADIN_API int gradin_convex_hull(gradin_vec2 *point_m, int n, gradin_vec2 *hull_m);
/* Closest point of the boundary to point_m; *edge (may be NULL) gets the edge's index. */
GRADIN_API gradin_vec2 gradin_polygon_nearest_m(gradin_polygon polygon, gradin_vec2 point_m,
                                                int *edge);
/* Interiors of two simple polygons share more than touch_m of depth in any direction (exact for
 * convex polygons by separating axes; a concave one is judged by edge crossings and containment).
 */
GRADIN_API bool gradin_polygon_overlap(gradin_polygon a, gradin_polygon b, double touch_m);
/* Area that two simple polygons have in common. */
GRADIN_API double gradin_polygon_common_m2(gradin_polygon a, gradin_polygon b);
/* The polygon as n_corner - 2 triangles: corner[3 * (n_corner - 2)] gets the indices of their
 * corners, scratch has n_corner. Returns how many; 0 for NULL. */
GRADIN_API int gradin_polygon_triangles(gradin_polygon polygon, int *scratch, int *corner);
/* Distance along the plan ray origin + t*unit, t >= 0, to the first boundary crossing; false when
 * the ray misses. An origin inside gives 0. */
GRADIN_API bool gradin_polygon_ray_m(gradin_polygon polygon, gradin_vec2 origin_m, gradin_vec2 unit,
                                     double *t_m);
/* Four corners of a rectangle: `along` lies along the bearing, `across` to its right; centre on
 * centre_m. */
GRADIN_API void gradin_rectangle_corners(gradin_vec2 centre_m, double bearing_deg, double along_m,
                                         double across_m, gradin_vec2 corner_m[4]);

/* Centres of a square grid over the polygon that lie inside it. Its rows run along the unit vector;
 * the widest spacing for which at least n_wanted lie inside is found by bisection, and the grid is
 * centred on the bounding box in its own directions. Each sample stands for the same area. *point_m
 * gets [*n_point] in the arena. */
GRADIN_API gradin_status gradin_polygon_grid(gradin_arena *arena, gradin_polygon polygon,
                                             gradin_vec2 along, int n_wanted, gradin_vec2 **point_m,
                                             int *n_point);
/* How samples lie. `edge` is the direction along which things mostly run, in which they are boxed;
 * rows of samples run along `row`. Unit vectors on plan. */
typedef struct gradin_lie {
    gradin_vec2 edge, row;
} gradin_lie;
/* Edges along the polygon's longest; rows askew to it and to all that runs with it, square to it or
 * at 30, 45 or 60 degrees to it, so that no edge of a shadow follows a row of samples. A polygon
 * that is moved, turned or mirrored corner by corner takes both directions with it. */
GRADIN_API gradin_lie gradin_polygon_askew(gradin_polygon polygon);

/* Shapes. */

typedef enum gradin_shape_kind {
    GRADIN_SHAPE_ELLIPSOID, /* axes: forward (bearing), right, up */
    GRADIN_SHAPE_CAPSULE,   /* all points within radius_m of the segment a-b */
    GRADIN_SHAPE_BOX,       /* turned about z only */
    GRADIN_SHAPE_PRISM,     /* simple polygon between two heights */
    GRADIN_SHAPE_TRIANGLE
} gradin_shape_kind;

typedef struct gradin_shape {
    gradin_shape_kind kind;
    union {
        struct {
            gradin_vec3 centre_m;
            double half_forward_m, half_right_m, half_up_m; /* semi-axes / half sizes */
            gradin_vec2 forward;                            /* unit vector on plan */
        } solid;                                            /* ellipsoid and box */
        struct {
            gradin_vec3 a_m, b_m;
            double radius_m;
        } capsule;
        struct {
            gradin_polygon polygon;
            double bottom_m, top_m;
        } prism;
        struct {
            gradin_vec3 corner_m[3];
        } triangle;
    } as;
    gradin_vec3 bound_centre_m; /* bounding sphere, filled by the constructors */
    double bound_radius_m;
} gradin_shape;

GRADIN_API gradin_shape gradin_ellipsoid(gradin_vec3 centre_m, double bearing_deg,
                                         double half_forward_m, double half_right_m,
                                         double half_up_m);
GRADIN_API gradin_shape gradin_capsule(gradin_vec3 a_m, gradin_vec3 b_m, double radius_m);
GRADIN_API gradin_shape gradin_box(gradin_vec3 centre_m, double bearing_deg, double half_forward_m,
                                   double half_right_m, double half_up_m);
/* The polygon's corners must outlive the shape. */
GRADIN_API gradin_shape gradin_prism(gradin_polygon polygon, double bottom_m, double top_m);
GRADIN_API gradin_shape gradin_triangle(gradin_vec3 a_m, gradin_vec3 b_m, gradin_vec3 c_m);

/* Does the open segment eye-target meet the closed shape? *t (may be NULL) gets the fraction of the
 * way at which it enters, 0 when the eye is inside. Contacts within GRADIN_SEGMENT_END of either
 * end (as a fraction) do not count unless the eye is inside; a graze whose chord is shorter than
 * rounding may go either way, and that is the only tie. */
#define GRADIN_SEGMENT_END 1e-9
GRADIN_API bool gradin_shape_hit(const gradin_shape *shape, gradin_vec3 eye_m, gradin_vec3 target_m,
                                 double *t);

/* Visibility. */

enum { GRADIN_NO_OWNER = -1, GRADIN_CLEAR = -1 };

typedef struct gradin_occluder {
    gradin_shape shape;
    int cause; /* caller's own class, 0 .. */
    int owner; /* an eye with the same owner is not hidden by it; GRADIN_NO_OWNER blocks all */
    int name;  /* caller's own index of a name */
} gradin_occluder;

typedef struct gradin_scene {
    const gradin_occluder *occluder; /* [n_occluder] */
    int n_occluder;
} gradin_scene;

/* First occluder met on the way from the eye to each sample: first[i] is its index in the scene, or
 * GRADIN_CLEAR. Equal entry fractions go to the lower index. Tests every occluder: the reference
 * that every faster kernel must equal. sample_m is [n_sample], first is [n_sample]. */
GRADIN_API void gradin_visibility_reference(const gradin_scene *scene, gradin_vec3 eye_m, int owner,
                                            const gradin_vec3 *sample_m, int n_sample,
                                            int32_t *first);

/* Scratch for gradin_visibility, one per thread; from the arena. NULL when out of memory. */
typedef struct gradin_visibility_scratch gradin_visibility_scratch;
GRADIN_API gradin_visibility_scratch *gradin_visibility_scratch_create(gradin_arena *arena,
                                                                       const gradin_scene *scene);

/* The same answer, bit for bit, with occluders culled by the cone of the samples and met in order
 * of distance. */
GRADIN_API void gradin_visibility(const gradin_scene *scene, gradin_vec3 eye_m, int owner,
                                  const gradin_vec3 *sample_m, int n_sample, int32_t *first,
                                  gradin_visibility_scratch *scratch);

/* Visibility of grids on a plane by masks. */

/* Instruction sets of the mask kernel's loops; every one gives the same bits. */
typedef enum gradin_simd {
    GRADIN_SIMD_BEST, /* the widest that the processor has; so at the start */
    GRADIN_SIMD_PORTABLE,
    GRADIN_SIMD_AVX2,
    GRADIN_SIMD_AVX512,
    GRADIN_N_SIMD
} gradin_simd;

GRADIN_API bool gradin_simd_has(gradin_simd simd);
/* Chooses for the whole process; false (and nothing changes) when the processor lacks it. */
GRADIN_API bool gradin_simd_use(gradin_simd simd);
GRADIN_API gradin_simd gradin_simd_used(void); /* never GRADIN_SIMD_BEST */

/* A scene with its tree of boxes, shared by all threads, made for grids that lie so. The caller's
 * occluders must outlive it: they settle what rounding leaves open. NULL when out of memory, as
 * from all that follow. */
typedef struct gradin_mask_scene gradin_mask_scene;
GRADIN_API gradin_mask_scene *gradin_mask_scene_create(gradin_arena *arena,
                                                       const gradin_scene *scene, gradin_lie lie);

/* Samples of one focus area, which must outlive it. Those of gradin_polygon_grid() on a plane that
 * is level or rises by 1 in 1 at most, lying as the scene has it, are served by masks; any others
 * are met one by one. */
typedef struct gradin_mask_grid gradin_mask_grid;
GRADIN_API gradin_mask_grid *gradin_mask_grid_create(gradin_arena *arena,
                                                     const gradin_vec3 *sample_m, int n_sample,
                                                     gradin_lie lie);

/* Scratch for any of the grids; one per thread. */
typedef struct gradin_mask_scratch gradin_mask_scratch;
GRADIN_API gradin_mask_scratch *
gradin_mask_scratch_create(gradin_arena *arena, const gradin_mask_grid *const *grid, int n_grid);

/* The same as gradin_visibility_reference() on the grid's samples, bit for bit: first[n_sample]. */
GRADIN_API void gradin_mask_first(const gradin_mask_scene *scene, const gradin_mask_grid *grid,
                                  gradin_vec3 eye_m, int owner, int32_t *first,
                                  gradin_mask_scratch *scratch);
/* How many samples are clear; clear[n_sample] (may be NULL) tells which. Faster: asks for nobody's
 * name. */
GRADIN_API int gradin_mask_clear(const gradin_mask_scene *scene, const gradin_mask_grid *grid,
                                 gradin_vec3 eye_m, int owner, bool *clear,
                                 gradin_mask_scratch *scratch);

/* The same for points that lie on no grid; on some processors sixteen boxes of the tree at once. */
GRADIN_API int gradin_rays_clear(const gradin_mask_scene *scene, gradin_vec3 eye_m, int owner,
                                 const gradin_vec3 *point_m, int n, bool *clear);
/* What hides each, as gradin_visibility_reference() has it, bit for bit: first[n]. */
GRADIN_API void gradin_rays_first(const gradin_mask_scene *scene, gradin_vec3 eye_m, int owner,
                                  const gradin_vec3 *point_m, int n, int32_t *first);

/* Segments of one eye that lie close together, as those of a block of a picture's pixels: what any
 * of them may meet is found once for all. Made for one thread; NULL when out of memory. */
typedef struct gradin_beam gradin_beam;
GRADIN_API gradin_beam *gradin_beam_create(gradin_arena *arena, const gradin_mask_scene *scene,
                                           gradin_vec3 eye_m, int owner);
/* Corners of a pyramid whose top is the eye, in order round it, as ways from the eye that lie
 * within less than a right angle of each other. May be aimed again and again. */
GRADIN_API void gradin_beam_aim(gradin_beam *beam, const gradin_vec3 way[4]);
/* What a segment inside the pyramid meets first, as gradin_rays_first() has it; *entry is the
 * fraction of the way (INFINITY: nothing, GRADIN_CLEAR). */
GRADIN_API int32_t gradin_beam_first(gradin_beam *beam, gradin_vec3 point_m, double *entry);
/* Nothing that is numbered below `end` in the scene lies on the segment. Only to be asked while
 * gradin_beam_is_listed(): not with very many bodies in the pyramid or triangles in the scene. */
GRADIN_API bool gradin_beam_is_clear(gradin_beam *beam, gradin_vec3 point_m, int end);
GRADIN_API bool gradin_beam_is_listed(const gradin_beam *beam);

#ifdef __cplusplus
}
#endif

#endif
