/* Maps drawn one after another share what lies below and above the seats: each must be, byte for
 * byte, what it is when drawn alone. */
#include "gradin/render.h"
#include "unit/render/fake_hall.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static gradin_arena *arena;
static fake_hall *hall;
static char dir[] = "/tmp/gradin-easel-XXXXXX";

static void set_up(void) {
    arena = gradin_arena_create();
    hall = fake_hall_create(arena);
    cr_assert_not_null(hall);
    cr_assert_not_null(mkdtemp(dir));
}

static void remove_files(void) {
    DIR *open_dir = opendir(dir);
    cr_assert_not_null(open_dir);
    for (struct dirent *entry; (entry = readdir(open_dir));) {
        char path[600];
        snprintf(path, sizeof path, "%s/%s", dir, entry->d_name);
        if (entry->d_name[0] != '.') unlink(path);
    }
    closedir(open_dir);
}

static void tear_down(void) {
    remove_files();
    rmdir(dir);
    gradin_arena_destroy(arena);
}

TestSuite(easel, .init = set_up, .fini = tear_down);

static bool is_as_alone(gradin_map map, int sheet) {
    unsigned char *alone = NULL;
    char *among = NULL;
    size_t n_alone = 0, n_among = 0;
    char path[300];
    snprintf(path, sizeof path, "%s/%s-sheet%d-%s.png", dir, gradin_map_name(map), sheet + 1,
             sheet ? "upper" : "main_floor");
    if (access(path, R_OK) != 0) return false;
    cr_assert_eq(gradin_read_bytes(arena, path, 1 << 26, &among, &n_among, NULL), GRADIN_OK);
    cr_assert_eq(gradin_map_png(arena, &hall->assessment, map, sheet, &alone, &n_alone, NULL),
                 GRADIN_OK);
    cr_assert_eq(n_among, n_alone, "%s", path);
    cr_assert_eq(memcmp(among, alone, n_alone), 0, "%s", path);
    return true;
}

Test(easel, a_map_among_others_is_the_map_alone) {
    int n = 0, n_same = 0;
    hall->assessment.n_band = 0;
    cr_assert_eq(gradin_maps_write(&hall->assessment, GRADIN_MAP_SCALE_FITTED, GRADIN_PICTURE_PNG,
                                   dir, &n, NULL),
                 GRADIN_OK);
    for (int map = 0; map < GRADIN_N_MAP; map++)
        for (int sheet = 0; sheet < 2 && gradin_map_applies(&hall->assessment, (gradin_map)map);
             sheet++)
            n_same += is_as_alone((gradin_map)map, sheet);
    cr_assert_gt(n_same, 12, "of sight and of noise, with shades and an overflight");
    cr_assert_leq(n_same, n);
}
