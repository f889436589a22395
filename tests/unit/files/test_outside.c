/* Points outside, read from a file. */
#include "gradin/files.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const char *write_file(const char *text) {
    static char path[64];
    snprintf(path, sizeof path, "/tmp/gradin-outside-%ld.csv", (long)getpid());
    FILE *out = fopen(path, "w");
    cr_assert(out);
    fputs(text, out);
    fclose(out);
    return path;
}

static gradin_status read_text(gradin_arena *arena, const char *text, const char *units,
                               gradin_outside *outside, gradin_error *error) {
    const char *path = write_file(text);
    gradin_status status = gradin_outside_read(arena, path, units, outside, error);
    remove(path);
    return status;
}

Test(outside, is_read_in_the_layouts_units) {
    gradin_arena *arena = gradin_arena_create();
    gradin_outside o;
    gradin_error error = {0};
    const char *text = "name,x,y,z\nwest pavement,-10,20.5,5\r\n\nwindow 2,1,2,3\n";
    cr_assert_eq(read_text(arena, text, "m", &o, &error), GRADIN_OK);
    cr_assert(o.n_point == 2 && strlen(o.digest) == 32);
    cr_assert_str_eq(o.point[0].name, "west pavement");
    cr_assert_str_eq(o.point[1].name, "window 2");
    cr_assert(o.point[0].eye_m.x == -10.0 && o.point[0].eye_m.y == 20.5 &&
              o.point[0].eye_m.z == 5.0 && o.point[1].at->line == 4);
    cr_assert_eq(read_text(arena, text, "ft", &o, &error), GRADIN_OK);
    cr_assert(fabs(o.point[0].eye_m.y - 20.5 * 0.3048) < 1e-12);
    gradin_arena_destroy(arena);
}

Test(outside, is_refused_with_its_line) {
    static const struct {
        const char *text, *complaint;
        int line;
    } bad[] = {
        {"name,x,y\n", "the first line must be name,x,y,z", 1},
        {"name,x,y,z\n", "no point follows", 2},
        {"name,x,y,z\nw,1,2\n", "four cells", 2},
        {"name,x,y,z\nw,1,2,3,4\n", "four cells", 2},
        {"name,x,y,z\nw,1,2,3\nv,1,two,3\n", "plain numbers", 3},
        {"name,x,y,z\nw,1,2,5001\n", "within 5000 m", 2},
        {"name,x,y,z\n,1,2,3\n", "a name of 1 to 60 bytes", 2},
        {"name,x,y,z\n\"w\",1,2,3\n", "a name of 1 to 60 bytes", 2},
        {"name,x,y,z\nw\xF6,1,2,3\n", "a name of 1 to 60 bytes", 2},
        {"name,x,y,z\nw\xE2\x80\xAE,1,2,3\n", "a name of 1 to 60 bytes", 2},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_outside o;
        gradin_error error = {0};
        cr_assert_eq(read_text(arena, bad[i].text, "m", &o, &error), GRADIN_BAD_INPUT);
        cr_assert(error.n_diagnostic == 1 && strstr(error.diagnostic[0].text, bad[i].complaint),
                  "%s", error.diagnostic[0].text);
        cr_assert_eq(error.diagnostic[0].line, bad[i].line, "%s", bad[i].text);
        gradin_arena_destroy(arena);
    }
}

Test(outside, of_65_points_is_one_too_many) {
    gradin_arena *arena = gradin_arena_create();
    gradin_outside o;
    gradin_error error = {0};
    char text[2048] = "name,x,y,z\n";
    for (int i = 0; i < 65; i++)
        snprintf(text + strlen(text), sizeof text - strlen(text), "p%d,%d,0,1\n", i, i);
    cr_assert_eq(read_text(arena, text, "m", &o, &error), GRADIN_BAD_INPUT);
    cr_assert(strstr(error.diagnostic[0].text, "at most 64") && error.diagnostic[0].line == 66);
    gradin_arena_destroy(arena);
}
