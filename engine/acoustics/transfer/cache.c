/* The room's transfer by radiosity in a file of its own.
 *
 * A layout's transfer depends on its shape, what absorbs, seats, facade elements and the size of
 * the patches, not on the traffic. The file's name is a digest (XXH3-128) of all of these, of this
 * library's version and of the processor's kernels, which fix the last bits: a file that is found
 * is what would be computed. A file holds a head with the counts, the key and a digest of the rest,
 * then the arrays as they lie in memory. Whatever does not fit is taken for damage and not read. */
#include "acoustics/transfer/cache.h"

#include "base/digest.h"

#include <cblas.h>
#include <string.h>
#include <sys/stat.h>

/* Raise the number with any change of what the room's code computes. */
static const char method[] = "gradin " GRADIN_VERSION " radiosity 8";

static const char magic[8] = {'g', 'r', 'a', 'd', 'i', 'n', 'H', '\n'};
static const uint32_t byte_order = 0x01020304;

enum { KEY_CHARS = 32, N_COUNT = 6, MOST_ARRAY = 4 + GRADIN_N_SHADE_STATE };

typedef struct head {
    char magic[8];
    uint32_t version, byte_order;
    int64_t count[N_COUNT]; /* form, seats, elements, bands, states, patches */
    char key[KEY_CHARS];
    char digest[KEY_CHARS]; /* of what stands before it and of the arrays */
} head;

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
        const double number[12] = {e->corner_m.x, e->corner_m.y, e->corner_m.z, e->along.x,
                                   e->along.y,    e->outward.x,  e->outward.y,  e->width_m,
                                   e->height_m,   e->open,       e->tilt_deg,   e->taken};
        fold(hex, number, 12);
        fold(hex, e->absorption, GRADIN_N_BAND);
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

static void fold_reverberation(char hex[33], const gradin_reverberation *r) {
    fold_count(hex, r != NULL);
    if (!r) return;
    fold(hex, r->measured_s, GRADIN_N_BAND);
    fold(hex, r->seating, GRADIN_N_BAND);
    fold_count(hex, r->shades);
}

void gradin_cache_key(const gradin_model *model, const gradin_scene *scene, char hex[33]) {
    const char *kernels = openblas_get_corename();
    hex[0] = '\0';
    gradin_digest_fold(hex, method, sizeof method);
    gradin_digest_fold(hex, kernels, strlen(kernels));
    fold_room(hex, model);
    fold_facade(hex, model);
    fold_seats(hex, &model->seats);
    fold_reverberation(hex, model->reverberation);
    fold_count(hex, scene->n_occluder);
    for (int i = 0; i < scene->n_occluder; i++) fold_shape(hex, &scene->occluder[i].shape);
}

char *gradin_cache_path(gradin_arena *arena, const char *folder, const char *key) {
    return gradin_arena_print(arena, "%s/%s.room", folder, key);
}

/* One array of a transfer as it lies in the file. */
typedef struct kept_array {
    double **at;
    size_t n;
} kept_array;

/* The arrays that a transfer of its counts keeps, states from the last one down; how many. */
static int list_arrays(gradin_transfer *t, int n_state, kept_array array[MOST_ARRAY]) {
    size_t n_seat = (size_t)t->n_seat, n_patch = (size_t)t->n_patch;
    size_t n_element = (size_t)t->n_element;
    bool is_whole = t->form == GRADIN_TRANSFER_BY_ELEMENT;
    int n = 0;
    array[n++] = (kept_array){&t->factor, GRADIN_N_BAND};
    if (!is_whole) {
        array[n++] = (kept_array){&t->direct_1m2, n_seat * n_element};
        array[n++] = (kept_array){&t->seen, n_seat * n_patch};
        array[n++] = (kept_array){&t->patch_m, 3 * n_patch};
    }
    for (int k = GRADIN_N_SHADE_STATE - 1; k >= GRADIN_N_SHADE_STATE - n_state; k--)
        array[n++] = is_whole
                         ? (kept_array){&t->whole_1m2[k], GRADIN_N_BAND * n_seat * n_element}
                         : (kept_array){&t->emission_1m2[k], GRADIN_N_BAND * n_element * n_patch};
    return n;
}

static head head_of(const gradin_transfer *t, const char *key, int n_state) {
    head h = {.version = 4,
              .byte_order = byte_order,
              .count = {t->form, t->n_seat, t->n_element, GRADIN_N_BAND, n_state, t->n_patch}};
    memcpy(h.magic, magic, sizeof magic);
    memcpy(h.key, key, KEY_CHARS);
    return h;
}

static void seal(const head *h, const kept_array *array, int n, char hex[33]) {
    hex[0] = '\0';
    gradin_digest_fold(hex, h, offsetof(head, digest));
    for (int k = 0; k < n; k++) fold(hex, *array[k].at, array[k].n);
}

/* Points the transfer's arrays at the bytes behind the head; false when the size is another. */
static bool lay_out(char *bytes, size_t size, const kept_array *array, int n) {
    size_t at = sizeof(head);
    for (int k = 0; k < n; k++) {
        if ((size - at) / sizeof(double) < array[k].n) return false;
        *array[k].at = (double *)(void *)(bytes + at); /* block and head keep doubles aligned */
        at += array[k].n * sizeof(double);
    }
    return at == size;
}

static bool read_file(char *bytes, size_t size, const char *key, int n_state,
                      gradin_transfer *filled) {
    head found;
    kept_array array[MOST_ARRAY];
    char hex[33];
    if (size < sizeof found) return false;
    memcpy(&found, bytes, sizeof found);
    int64_t n_patch = found.count[N_COUNT - 1];
    if (n_patch < 1 || n_patch > GRADIN_MAX_PATCH) return false;
    filled->n_patch = (int)n_patch;
    head wanted = head_of(filled, key, n_state);
    int n = list_arrays(filled, n_state, array);
    if (memcmp(&found, &wanted, offsetof(head, digest)) != 0 || !lay_out(bytes, size, array, n))
        return false;
    seal(&found, array, n, hex);
    return memcmp(found.digest, hex, KEY_CHARS) == 0;
}

gradin_status gradin_cache_read(gradin_arena *arena, const char *path, const char *key, int n_state,
                                gradin_transfer *transfer, bool *is_found) {
    gradin_transfer filled = *transfer;
    size_t most =
        sizeof(head) + (size_t)gradin_transfer_bytes(filled.form, filled.n_seat, filled.n_element,
                                                     GRADIN_MAX_PATCH, n_state);
    size_t size;
    char *bytes;
    *is_found = false;
    gradin_status status = gradin_read_bytes(
        arena, path, most + (3 * GRADIN_MAX_PATCH + GRADIN_N_BAND) * sizeof(double), &bytes, &size,
        NULL);
    if (status != GRADIN_OK) return status == GRADIN_NO_MEMORY ? status : GRADIN_OK;
    if (!read_file(bytes, size, key, n_state, &filled)) return GRADIN_OK;
    *transfer = filled;
    *is_found = true;
    return GRADIN_OK;
}

gradin_status gradin_cache_write(const char *folder, const char *path, const char *key, int n_state,
                                 const gradin_transfer *transfer, gradin_error *error) {
    char hex[33];
    gradin_transfer kept = *transfer;
    kept_array array[MOST_ARRAY];
    int n = list_arrays(&kept, n_state, array);
    head h = head_of(transfer, key, n_state);
    gradin_bytes part[1 + MOST_ARRAY] = {{&h, sizeof h}};
    seal(&h, array, n, hex);
    memcpy(h.digest, hex, KEY_CHARS);
    for (int k = 0; k < n; k++)
        part[1 + k] = (gradin_bytes){*array[k].at, array[k].n * sizeof(double)};
    mkdir(folder, 0777); /* when it is there already, or cannot be, the file tells */
    return gradin_write_parts(path, part, 1 + n, error);
}
