#include "fuzz/target.h"

#include "gradin/gradin.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { MAX_SEAT = 300, MAX_ELEMENT = 60 }; /* larger ones are read, not assessed */

static const char *const good_file[] = {"venue.yaml", "layout.yaml", "pass.yaml",  "brief.yaml",
                                        "door.csv",   "seats.csv",   "wishes.yaml"};
enum { N_GOOD = sizeof good_file / sizeof good_file[0] };

static char folder[64];
static gradin_error error;

static const char *path_of(const char *name) {
    static char path[160];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static bool write_bytes(const char *path, const void *bytes, size_t size) {
    int fd = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    bool ok = fd >= 0 && write(fd, bytes, size) == (ssize_t)size;
    if (fd >= 0) close(fd);
    return ok;
}

/* A copy of a good file; the venue's layout is kept twice, once with the input as its venue. */
static bool copy_good(gradin_arena *arena, const char *hall_dir, const char *name) {
    char *bytes = NULL;
    size_t size = 0;
    const char *from = gradin_arena_print(arena, "%s/%s", hall_dir, name);
    if (gradin_read_file(arena, from, 1 << 20, &bytes, &size, NULL) != GRADIN_OK) return false;
    if (!write_bytes(path_of(name), bytes, size)) return false;
    char *venue = strstr(bytes, "venue: venue.yaml");
    if (strcmp(name, "layout.yaml") != 0 || !venue) return strcmp(name, "layout.yaml") != 0;
    memcpy(venue, "venue: input.yaml", 17);
    return write_bytes(path_of("on_input.yaml"), bytes, size);
}

bool target_open(const char *hall_dir) {
    gradin_arena *arena = gradin_arena_create();
    strcpy(folder, "/tmp/gradin-fuzz-XXXXXX");
    bool ok = arena && mkdtemp(folder);
    for (int k = 0; k < N_GOOD && ok; k++) ok = copy_good(arena, hall_dir, good_file[k]);
    gradin_arena_destroy(arena);
    return ok;
}

void target_close(void) {
    for (int k = 0; k < N_GOOD; k++) unlink(path_of(good_file[k]));
    unlink(path_of("on_input.yaml"));
    unlink(path_of("input.yaml"));
    rmdir(folder);
}

/* A diagnostic goes to a terminal: no control character of the file may reach it. */
static bool is_printable(const char *text) {
    for (; *text; text++)
        if ((unsigned char)*text < 0x20 || *text == 0x7f) return false;
    return true;
}

static const char *judge(gradin_status status) {
    char line[1024];
    for (int i = 0; i < error.n_diagnostic && status == GRADIN_OK; i++)
        if (error.diagnostic[i].family != GRADIN_OK) return "good, yet it has diagnostics";
    if (status == GRADIN_OK) return NULL;
    if (status != GRADIN_BAD_INPUT && status != GRADIN_NUMERIC) return gradin_status_name(status);
    if (error.n_diagnostic == 0) return "refused without a reason";
    for (int i = 0; i < error.n_diagnostic; i++) {
        if (!error.diagnostic[i].text[0]) return "a diagnostic without a text";
        gradin_diagnostic_format(&error.diagnostic[i], line, sizeof line);
        if (!is_printable(line)) return "a diagnostic with a control character";
    }
    return NULL;
}

static gradin_status assess(gradin_arena *arena, const char *layout, size_t n_byte) {
    gradin_model model;
    gradin_assessment a;
    char *text;
    size_t size;
    gradin_status status = gradin_model_read(arena, layout, &model, &error);
    if (status != GRADIN_OK || model.seats.n_seat > MAX_SEAT || model.n_element > MAX_ELEMENT)
        return status;
    if (n_byte % 4 != 0) model.room_method = GRADIN_ROOM_DIFFUSE; /* the quicker one, mostly */
    gradin_assess_options few = {.sight = {.n_sample = 4}};
    status = gradin_assess(arena, &model, &few, &a, &error);
    if (status == GRADIN_OK) status = gradin_seats_csv(arena, &a, &text, &size, &error);
    if (status == GRADIN_OK) status = gradin_summary_json(arena, &a, &text, &size, &error);
    return status;
}

static gradin_status assess_alone(const char *layout, size_t n_byte) {
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return GRADIN_NO_MEMORY;
    gradin_status status = assess(arena, layout, n_byte);
    gradin_arena_destroy(arena);
    return status;
}

gradin_status target_run(const void *bytes, size_t size, const char **complaint) {
    const char *kind = "";
    gradin_error_clear(&error);
    *complaint = "the input cannot be written";
    if (!write_bytes(path_of("input.yaml"), bytes, size)) return GRADIN_IO_FAILED;
    gradin_status status = gradin_file_check(path_of("input.yaml"), &kind, &error);
    if (status == GRADIN_OK && strcmp(kind, "layout") == 0)
        status = assess_alone(path_of("input.yaml"), size);
    if (status == GRADIN_OK && strcmp(kind, "venue") == 0)
        status = assess_alone(path_of("on_input.yaml"), size);
    *complaint = judge(status);
    return status;
}
