/* tests/bench/patches.c: how long the room takes, and how far halving the patches moves the seats.
 * usage: bench_patches LARGEST_M COUNT LAYOUT...
 *
 * For each layout the pass of its overflight is worked out with patches of LARGEST_M, half of it,
 * and so on, COUNT times; printed are the patches, the time of the room's transfer (the best of
 * three for the first size, with the processor time of all threads), and between neighbours the
 * change of the A-weighted maximum over the seats, shades as set, open and shut. Sizes that make
 * too many patches are said to. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "acoustics/transfer/transfer.h"
#include "gradin/acoustics.h"
#include "gradin/files.h"

typedef struct needs {
    double wall_s, cpu_s;
} needs;

static double now_s(clockid_t clock) {
    struct timespec now;
    clock_gettime(clock, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static int by_value(const void *a, const void *b) {
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

static void compare(const gradin_model *model, const gradin_noise *coarse,
                    const gradin_noise *fine) {
    int n = model->seats.n_seat;
    double *moved_db = calloc((size_t)n, sizeof *moved_db);
    if (!moved_db) exit(3);
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        int worst = 0;
        for (int s = 0; s < n; s++) {
            moved_db[s] = fabs(fine->lamax_db[state][s] - coarse->lamax_db[state][s]);
            if (moved_db[s] > moved_db[worst]) worst = s;
        }
        const char *name = model->seats.id ? model->seats.id[worst] : "";
        double from_db = coarse->lamax_db[state][worst], to_db = fine->lamax_db[state][worst];
        qsort(moved_db, (size_t)n, sizeof *moved_db, by_value);
        printf("    %s: median %.3f, 90 %% %.3f, most %.3f dB, seat %s (%.2f -> %.2f)\n",
               (const char *const[]){"as set", "open", "shut"}[state], moved_db[n / 2],
               moved_db[n * 9 / 10], moved_db[n - 1], name, from_db, to_db);
    }
    free(moved_db);
}

static needs room_s(const gradin_model *model, int n_run) {
    needs best = {INFINITY, INFINITY};
    for (int k = 0; k < n_run; k++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_transfer transfer;
        gradin_error error = {0};
        double wall_s = now_s(CLOCK_MONOTONIC), cpu_s = now_s(CLOCK_PROCESS_CPUTIME_ID);
        if (!arena || gradin_transfer_make(arena, model, gradin_transfer_form_of(model), NULL,
                                           &transfer, &error) != GRADIN_OK)
            return (needs){NAN, NAN};
        best.wall_s = fmin(best.wall_s, now_s(CLOCK_MONOTONIC) - wall_s);
        best.cpu_s = fmin(best.cpu_s, now_s(CLOCK_PROCESS_CPUTIME_ID) - cpu_s);
        gradin_arena_destroy(arena);
    }
    return best;
}

static void refine(const char *path, double size_m, int n_size) {
    gradin_arena *arena = gradin_arena_create();
    gradin_model model;
    gradin_error error = {0};
    gradin_noise noise[2];
    if (!arena || gradin_model_read(arena, path, &model, &error) != GRADIN_OK) {
        fprintf(stderr, "%s\n", error.diagnostic[0].text);
        exit(1);
    }
    printf("%s, %d seats\n", model.layout_name, model.seats.n_seat);
    model.room_method = GRADIN_ROOM_RADIOSITY;
    for (int k = 0; k < n_size; k++, size_m *= 0.5) {
        model.room_patch_m = size_m;
        needs room = room_s(&model, k == 0 ? 3 : 1);
        if (gradin_noise_compute(arena, &model, NULL, &noise[k % 2], &error) != GRADIN_OK) {
            printf("  %.3f m: %s\n", size_m, error.diagnostic[0].text);
            break;
        }
        printf("  %.3f m: %d patches, room in %.2f s, %.2f s of processors\n", size_m,
               noise[k % 2].n_patch, room.wall_s, room.cpu_s);
        if (k > 0) compare(&model, &noise[(k + 1) % 2], &noise[k % 2]);
        fflush(stdout);
    }
    gradin_arena_destroy(arena);
}

int main(int n_argument, char **argument) {
    double size_m;
    if (n_argument < 4 || !gradin_parse_number(argument[1], &size_m)) return 2;
    for (int i = 3; i < n_argument; i++) refine(argument[i], size_m, atoi(argument[2]));
    return 0;
}
