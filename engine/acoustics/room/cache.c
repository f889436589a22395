/* The room's transfer by radiosity in a file of its own.
 *
 * A layout's transfer depends on its shape, what absorbs, seats, facade elements and the size of
 * the patches, not on the traffic. The file's name is a digest (XXH3-128) of all of these, of this
 * library's version and of the processor's kernels, which fix the last bits: a file that is found
 * is what would be computed. A file holds a head with the counts, the key and a digest of the rest,
 * then the arrays as they lie in memory. Whatever does not fit is taken for damage and not read. */
#include "acoustics/room/cache.h"

#include "base/digest.h"

#include <cblas.h>
#include <string.h>
#include <sys/stat.h>

/* Raise the number with any change of what the room's code computes. */
static const char method[] = "gradin " GRADIN_VERSION " radiosity 3";

static const char magic[8] = {'g', 'r', 'a', 'd', 'i', 'n', 'H', '\n'};
static const uint32_t byte_order = 0x01020304;

enum { KEY_CHARS = 32, N_COUNT = 5 };

typedef struct head {
    char magic[8];
    uint32_t version, byte_order;
    int64_t count[N_COUNT]; /* seats, elements, bands, states, patches */
    char key[KEY_CHARS];
    char digest[KEY_CHARS]; /* of what stands before it and of the arrays */
    char rest[8];
} head;

/* ---- key ------------------------------------------------------------------------------------- */

static void fold(char hex[33], const double *value, size_t n) {
    gradin_digest_fold(hex, value, n * sizeof *value);
}

static void fold_count(char hex[33], int64_t n) {
    gradin_digest_fold(hex, &n, sizeof n);
}

static void fold_polygon(char hex[33], gradin_polygon plan) {
    fold_count(hex, plan.n_corner);
    fold(hex, &plan.corner_m[0].x, 2 * (size_t)plan.n_corner);
}

static void fold_shape(char hex[33], const gradin_shape *s) {
    fold_count(hex, s->kind);
    if (s->kind == GRADIN_SHAPE_PRISM) {
        const double height_m[2] = {s->as.prism.bottom_m, s->as.prism.top_m};
        fold_polygon(hex, s->as.prism.polygon);
        fold(hex, height_m, 2);
    } else if (s->kind == GRADIN_SHAPE_TRIANGLE) {
        fold(hex, &s->as.triangle.corner_m[0].x, 9);
    } else if (s->kind == GRADIN_SHAPE_CAPSULE) {
        fold(hex, &s->as.capsule.a_m.x, 3);
        fold(hex, &s->as.capsule.b_m.x, 3);
        fold(hex, &s->as.capsule.radius_m, 1);
    } else {
        const double half_m[3] = {s->as.solid.half_forward_m, s->as.solid.half_right_m,
                                  s->as.solid.half_up_m};
        fold(hex, &s->as.solid.centre_m.x, 3);
        fold(hex, half_m, 3);
        fold(hex, &s->as.solid.forward.x, 2);
    }
}

static void fold_room(char hex[33], const gradin_model *m) {
    const double size[3] = {m->ceiling_m, m->volume_m3, m->room_patch_m};
    fold_polygon(hex, m->footprint);
    fold(hex, size, 3);
    fold_count(hex, m->n_surface);
    for (int i = 0; i < m->n_surface; i++) {
        fold(hex, &m->surface[i].area_m2, 1);
        fold(hex, m->surface[i].absorption, GRADIN_N_BAND);
    }
    fold_count(hex, m->n_section);
    for (int i = 0; i < m->n_section; i++) {
        const gradin_section *s = &m->section[i];
        const gradin_setting *set = &s->machine->setting;
        const double level[3] = {set->position, set->riser_m, set->facing_deg};
        fold(hex, &s->corner_m[0].x, 8);
        fold(hex, level, 3);
        fold_count(hex, set->n_step);
    }
}

static void fold_facade(char hex[33], const gradin_model *m) {
    fold_count(hex, m->n_shade);
    for (int i = 0; i < m->n_shade; i++) {
        fold(hex, &m->shade[i].closed, 1);
        fold(hex, m->shade[i].absorption, GRADIN_N_BAND);
    }
    fold_count(hex, m->n_element);
    for (int i = 0; i < m->n_element; i++) {
        const gradin_element *e = &m->element[i];
        const double number[10] = {e->corner_m.x, e->corner_m.y, e->corner_m.z, e->along.x,
                                   e->along.y,    e->outward.x,  e->outward.y,  e->width_m,
                                   e->height_m,   e->open};
        fold(hex, number, 10);
        fold_count(hex, e->kind);
        fold_count(hex, e->shade);
    }
}

static void fold_seats(char hex[33], const gradin_seats *s) {
    size_t n = (size_t)s->n_seat;
    fold_count(hex, s->n_seat);
    fold(hex, &s->eye_m[0].x, 3 * n);
    if (!s->floor_m || !s->depth_m) return; /* then nobody absorbs */
    fold(hex, &s->floor_m[0].x, 3 * n);
    fold(hex, s->facing_deg, n);
    fold(hex, s->width_m, n);
    fold(hex, s->depth_m, n);
}

void gradin_cache_key(const gradin_model *model, const gradin_scene *scene, char hex[33]) {
    const char *kernels = openblas_get_corename();
    hex[0] = '\0';
    gradin_digest_fold(hex, method, sizeof method);
    gradin_digest_fold(hex, kernels, strlen(kernels));
    fold_room(hex, model);
    fold_facade(hex, model);
    fold_seats(hex, &model->seats);
    fold_count(hex, scene->n_occluder);
    for (int i = 0; i < scene->n_occluder; i++) fold_shape(hex, &scene->occluder[i].shape);
}

char *gradin_cache_path(gradin_arena *arena, const char *folder, const char *key) {
    return gradin_arena_print(arena, "%s/%s.room", folder, key);
}

/* ---- file ------------------------------------------------------------------------------------ */

static size_t n_value(const gradin_transfer *t) {
    return (size_t)t->n_seat * (size_t)t->n_element * GRADIN_N_BAND;
}

static head head_of(const gradin_transfer *t, const char *key, int n_state) {
    head h = {.version = 1,
              .byte_order = byte_order,
              .count = {t->n_seat, t->n_element, GRADIN_N_BAND, n_state, t->n_patch}};
    memcpy(h.magic, magic, sizeof magic);
    memcpy(h.key, key, KEY_CHARS);
    return h;
}

/* States are kept from the last one down. */
static const double *state_of(const gradin_transfer *t, int k) {
    return t->h_1m2[GRADIN_N_SHADE_STATE - 1 - k];
}

static void seal(const head *h, const gradin_transfer *t, int n_state, char hex[33]) {
    hex[0] = '\0';
    gradin_digest_fold(hex, h, offsetof(head, digest));
    for (int k = 0; k < n_state; k++) fold(hex, state_of(t, k), n_value(t));
}

static bool is_whole(const head *found, const gradin_transfer *t, const char *key, int n_state) {
    char hex[33];
    head wanted = head_of(t, key, n_state);
    if (memcmp(found, &wanted, offsetof(head, digest)) != 0 || t->n_patch < 1 ||
        t->n_patch > GRADIN_MAX_PATCH)
        return false;
    seal(found, t, n_state, hex);
    return memcmp(found->digest, hex, KEY_CHARS) == 0 &&
           memcmp(found->rest, wanted.rest, sizeof wanted.rest) == 0;
}

gradin_status gradin_cache_read(gradin_arena *arena, const char *path, const char *key, int n_state,
                                gradin_transfer *transfer, bool *is_found) {
    size_t state_bytes = n_value(transfer) * sizeof(double), size;
    size_t wanted = sizeof(head) + (size_t)n_state * state_bytes;
    char *bytes;
    head found;
    *is_found = false;
    gradin_status status = gradin_read_bytes(arena, path, wanted, &bytes, &size, NULL);
    if (status != GRADIN_OK) return status == GRADIN_NO_MEMORY ? status : GRADIN_OK;
    if (size != wanted) return GRADIN_OK;
    memcpy(&found, bytes, sizeof found);
    gradin_transfer filled = *transfer;
    filled.n_patch = (int)found.count[N_COUNT - 1];
    for (int k = 0; k < n_state; k++) /* the arena's blocks and the head keep doubles aligned */
        filled.h_1m2[GRADIN_N_SHADE_STATE - 1 - k] =
            (double *)(void *)(bytes + sizeof(head) + (size_t)k * state_bytes);
    if (!is_whole(&found, &filled, key, n_state)) return GRADIN_OK;
    *transfer = filled;
    *is_found = true;
    return GRADIN_OK;
}

gradin_status gradin_cache_write(const char *folder, const char *path, const char *key, int n_state,
                                 const gradin_transfer *transfer, gradin_error *error) {
    char hex[33];
    head h = head_of(transfer, key, n_state);
    gradin_bytes part[1 + GRADIN_N_SHADE_STATE] = {{&h, sizeof h}};
    seal(&h, transfer, n_state, hex);
    memcpy(h.digest, hex, KEY_CHARS);
    for (int k = 0; k < n_state; k++)
        part[1 + k] = (gradin_bytes){state_of(transfer, k), n_value(transfer) * sizeof(double)};
    mkdir(folder, 0777); /* when it is there already, or cannot be, the file tells */
    return gradin_write_parts(path, part, 1 + n_state, error);
}
