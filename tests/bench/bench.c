/* Times the mask kernel against Embree on one core, both in one run, and prints the table.
 * usage: bench FOLDER_OF_LAYOUTS */
#include "rays.h"

#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

static const char *const mode_name[N_RAYS_MODE] = {"single", "packet 8", "packet 16", "stream"};

static double now_s(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double peak_mib(void) {
    struct rusage use;
    getrusage(RUSAGE_SELF, &use);
    return (double)use.ru_maxrss / 1024.0;
}

enum { N_AREA = 32 };

typedef struct masks {
    gradin_arena *arena;
    gradin_mask_scene *scene;
    const gradin_mask_grid *grid[N_AREA];
    gradin_mask_scratch *scratch;
    int32_t *first;
} masks;

static bool make_masks(masks *m, const bench_hall *hall) {
    int most = 0;
    m->arena = gradin_arena_create();
    if (!m->arena) return false;
    m->scene = gradin_mask_scene_create(m->arena, &hall->scene, hall->lie);
    for (int a = 0; a < hall->n_area; a++) {
        m->grid[a] =
            gradin_mask_grid_create(m->arena, hall->sample_m[a], hall->n_sample[a], hall->lie);
        if (!m->grid[a]) return false;
        most = hall->n_sample[a] > most ? hall->n_sample[a] : most;
    }
    m->scratch = gradin_mask_scratch_create(m->arena, m->grid, hall->n_area);
    m->first = gradin_arena_alloc(m->arena, (size_t)most, sizeof *m->first);
    return m->scene && m->scratch && m->first;
}

static int see(const masks *m, const bench_hall *hall, int seat, int a, bool want_first) {
    int n_clear = 0;
    if (!want_first)
        return gradin_mask_clear(m->scene, m->grid[a], hall->eye_m[seat], seat, NULL, m->scratch);
    gradin_mask_first(m->scene, m->grid[a], hall->eye_m[seat], seat, m->first, m->scratch);
    for (int i = 0; i < hall->n_sample[a]; i++) n_clear += m->first[i] == GRADIN_CLEAR;
    return n_clear;
}

static rays_result run_masks(const masks *m, const bench_hall *hall, bool want_first,
                             double *best_s) {
    rays_result r = {0};
    for (int seat = 0; seat < hall->n_seat; seat++) {
        double start = now_s();
        for (int a = 0; a < hall->n_area; a++) {
            r.n_ray += hall->n_sample[a];
            r.n_clear += see(m, hall, seat, a, want_first);
        }
        best_s[seat] = fmin(best_s[seat], now_s() - start);
        r.seconds += best_s[seat];
    }
    return r;
}

/* Least times of every contestant and seat. */
static double *make_times(gradin_arena *arena, int n) {
    double *best_s = gradin_arena_alloc(arena, (size_t)n, sizeof *best_s);
    for (int i = 0; best_s && i < n; i++) best_s[i] = INFINITY;
    return best_s;
}

static double mray(rays_result r) {
    return 1e-6 * (double)r.n_ray / r.seconds;
}

/* Repeats with all contestants in turn, so that a busy spell of the machine meets all alike. */
static void compare(const char *name, RTCScene scene, const bench_hall *hall, int repeats,
                    bool want_first) {
    rays_result ours[GRADIN_N_SIMD] = {{0}}, theirs[N_RAYS_MODE] = {{0}};
    masks m;
    int n = hall->n_seat;
    double *best_s =
        make_masks(&m, hall) ? make_times(m.arena, n * (GRADIN_N_SIMD + N_RAYS_MODE)) : NULL;
    if (!best_s) return;
    for (int i = 0; i < repeats; i++) {
        for (int simd = GRADIN_SIMD_PORTABLE; simd < GRADIN_N_SIMD; simd++)
            if (gradin_simd_use((gradin_simd)simd))
                ours[simd] = run_masks(&m, hall, want_first, best_s + simd * n);
        for (int mode = 0; mode < N_RAYS_MODE; mode++)
            theirs[mode] = rays_run(scene, hall, (rays_mode)mode, want_first,
                                    best_s + (GRADIN_N_SIMD + mode) * n);
    }
    double best = 0.0;
    printf("%s, %s: %d occluders, %d seats, %ld rays, visible %.4f (Embree %.4f)\n", name,
           want_first ? "first occluder" : "seen or not", hall->scene.n_occluder, hall->n_seat,
           ours[GRADIN_SIMD_PORTABLE].n_ray,
           (double)ours[GRADIN_SIMD_PORTABLE].n_clear / (double)ours[GRADIN_SIMD_PORTABLE].n_ray,
           (double)theirs[RAYS_SINGLE].n_clear / (double)theirs[RAYS_SINGLE].n_ray);
    for (int mode = 0; mode < N_RAYS_MODE; mode++) {
        printf("  Embree %-10s %9.1f Mray/s\n", mode_name[mode], mray(theirs[mode]));
        best = mray(theirs[mode]) > best ? mray(theirs[mode]) : best;
    }
    static const char *const simd_name[] = {"", "portable C", "AVX2", "AVX-512"};
    for (int simd = GRADIN_SIMD_PORTABLE; simd < GRADIN_N_SIMD; simd++)
        if (ours[simd].n_ray > 0)
            printf("  masks  %-10s %9.1f Mray/s  %6.1f times Embree's best\n", simd_name[simd],
                   mray(ours[simd]), mray(ours[simd]) / best);
    printf("  peak memory %.0f MiB\n", peak_mib());
    fflush(stdout);
    gradin_arena_destroy(m.arena);
}

static void compare_both(RTCDevice device, const char *name, const bench_hall *hall, int repeats) {
    RTCScene scene = rays_build(device, &hall->scene);
    compare(name, scene, hall, repeats, false);
    compare(name, scene, hall, repeats, true);
    rtcReleaseScene(scene);
}

static void bench_risers(RTCDevice device) {
    static const double riser_m[3] = {0.25, 0.10, 0.03};
    for (int i = 0; i < 3; i++) {
        gradin_arena *arena = gradin_arena_create();
        bench_hall hall;
        char name[64];
        snprintf(name, sizeof name, "(a) riser %.2f m", riser_m[i]);
        if (arena && bench_rows(arena, 20, 30, riser_m[i], &hall))
            compare_both(device, name, &hall, 9);
        gradin_arena_destroy(arena);
    }
}

static void bench_layouts(RTCDevice device, const char *folder, int cloth, int repeats) {
    static const char *const layout[] = {"end_stage", "thrust", "round", "traverse", "flat_floor"};
    for (size_t i = 0; i < sizeof layout / sizeof layout[0]; i++) {
        gradin_arena *arena = gradin_arena_create();
        bench_hall hall;
        char path[512], name[128];
        snprintf(path, sizeof path, "%s/%s.yaml", folder, layout[i]);
        snprintf(name, sizeof name, "(%c) %s", cloth ? 'c' : 'b', layout[i]);
        if (arena && bench_layout(arena, path, 1024, &hall) &&
            (!cloth || bench_add_cloth(arena, cloth, &hall)))
            compare_both(device, name, &hall, repeats);
        else
            printf("%s: cannot be read\n", path);
        gradin_arena_destroy(arena);
    }
}

/* Seconds for all seats of a hall of n_row rows, seen or not; 0 when out of memory. */
static double time_rows(int n_row, int n_across, double riser_m) {
    gradin_arena *arena = gradin_arena_create();
    bench_hall hall;
    masks m = {0};
    rays_result r = {0};
    double *best_s = NULL;
    if (arena && bench_rows(arena, n_row, n_across, riser_m, &hall) && make_masks(&m, &hall))
        best_s = make_times(arena, hall.n_seat);
    for (int i = 0; best_s && i < 7; i++) r = run_masks(&m, &hall, false, best_s);
    gradin_arena_destroy(m.arena);
    gradin_arena_destroy(arena);
    return r.seconds;
}

static void bench_growth(double riser_m) {
    static const int row[] = {20, 50, 100}, across[] = {30, 100, 200};
    double before_s = 0.0, first_s = 0.0;
    for (int i = 0; i < 3; i++) {
        double n = row[i] * across[i], seconds = time_rows(row[i], across[i], riser_m);
        printf("(d) riser %.2f m, %5.0f seats: %8.2f ms, %7.2f us per seat", riser_m, n,
               1e3 * seconds, 1e6 * seconds / n);
        if (i == 0) first_s = seconds;
        if (i > 0)
            printf(", exponent %.2f",
                   log(seconds / before_s) / log(n / (row[i - 1] * across[i - 1])));
        if (i == 2) printf(", from 600 on %.2f", log(seconds / first_s) / log(n / 600.0));
        printf(", peak memory %.0f MiB\n", peak_mib());
        before_s = seconds;
    }
}

int main(int argc, char **argv) {
    if (argc != 2) {
        fprintf(stderr, "usage: bench FOLDER_OF_LAYOUTS\n");
        return 2;
    }
    RTCDevice device = rtcNewDevice("threads=1,set_affinity=0");
    bench_growth(0.25);
    bench_growth(0.10);
    bench_growth(0.03);
    bench_risers(device);
    bench_layouts(device, argv[1], 0, 3);
    bench_layouts(device, argv[1], 866, 2);
    rtcReleaseDevice(device);
    return 0;
}
