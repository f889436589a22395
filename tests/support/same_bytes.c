/* seats.csv of the layouts given, by the brute-force reference and by the masks with every
 * instruction set on 1, 2 and 3 threads: the same bytes.
 * usage: same_bytes LAYOUT... */
#include "gradin/files.h"
#include "gradin/table.h"

#include <omp.h>
#include <stdio.h>
#include <string.h>

static bool write_csv(gradin_arena *arena, const gradin_model *model, bool use_reference,
                      char **csv, size_t *size) {
    gradin_sight_options options = {.n_sample = 60, .use_reference = use_reference};
    gradin_assessment a = {.model = model};
    return gradin_sight_compute(arena, model, &options, &a.sight, NULL) == GRADIN_OK &&
           gradin_seats_csv(arena, &a, GRADIN_CSV_SI, csv, size, NULL) == GRADIN_OK;
}

static bool check_layout(const char *path) {
    gradin_arena *arena = gradin_arena_create();
    gradin_model model;
    char *want, *got;
    size_t n_want, n_got;
    int n = 0;
    omp_set_num_threads(2);
    bool is_good = arena && gradin_model_read(arena, path, &model, NULL) == GRADIN_OK &&
                   write_csv(arena, &model, true, &want, &n_want);
    for (int simd = GRADIN_SIMD_PORTABLE; is_good && simd < GRADIN_N_SIMD; simd++) {
        if (!gradin_simd_use((gradin_simd)simd)) continue;
        for (int n_thread = 1; n_thread <= 3; n_thread++, n++) {
            omp_set_num_threads(n_thread);
            bool is_same = write_csv(arena, &model, false, &got, &n_got) && n_got == n_want &&
                           memcmp(got, want, n_got) == 0;
            if (!is_same) printf("%s: set %d, %d threads: other bytes\n", path, simd, n_thread);
            is_good = is_good && is_same;
        }
    }
    printf("%s: %zu bytes, %d times the same\n", path, is_good ? n_want : 0, n);
    gradin_arena_destroy(arena);
    return is_good && n_want > 1000;
}

int main(int argc, char **argv) {
    bool is_good = argc > 1;
    for (int i = 1; i < argc; i++) is_good = check_layout(argv[i]) && is_good;
    return is_good ? 0 : 1;
}
