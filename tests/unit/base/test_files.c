/* Whole files in and out: nobody sees half a file and nothing is left after a failure. */
#include "base/digest.h"
#include "base/faults.h"
#include "gradin/base.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[32], path[256];
static gradin_arena *arena;
static gradin_error error;

static const char *in_folder(const char *name) {
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static void open_folder(void) {
    strcpy(folder, "/tmp/gradin-files-XXXXXX");
    cr_assert(mkdtemp(folder));
    arena = gradin_arena_create();
    cr_assert(arena);
}

static void close_folder(void) {
    char command[64];
    gradin_write_fail_at(0);
    gradin_arena_destroy(arena);
    snprintf(command, sizeof command, "rm -rf %s", folder);
    cr_expect_eq(system(command), 0);
}

TestSuite(files, .init = open_folder, .fini = close_folder);

static int count_entries(void) {
    DIR *directory = opendir(folder);
    int n = 0;
    cr_assert(directory);
    for (const struct dirent *e; (e = readdir(directory));) n += e->d_name[0] != '.';
    closedir(directory);
    return n;
}

static void expect_content(const char *name, const char *expected) {
    char *bytes;
    size_t size;
    cr_assert_eq(gradin_read_file(arena, in_folder(name), 1000, &bytes, &size, &error), GRADIN_OK);
    cr_expect_eq(size, strlen(expected));
    cr_expect_str_eq(bytes, expected); /* the NUL that size does not count */
}

Test(files, write_then_read) {
    cr_assert_eq(gradin_write_file(in_folder("a"), "one", 3, &error), GRADIN_OK);
    expect_content("a", "one");
    cr_assert_eq(gradin_write_file(in_folder("a"), "two!", 4, &error), GRADIN_OK);
    expect_content("a", "two!");
    cr_assert_eq(gradin_write_file(in_folder("b"), "", 0, &error), GRADIN_OK);
    expect_content("b", "");
    cr_expect_eq(count_entries(), 2);
}

Test(files, a_failed_write_leaves_the_old_file_and_nothing_else) {
    cr_assert_eq(gradin_write_file(in_folder("a"), "old", 3, &error), GRADIN_OK);
    gradin_write_fail_at(1);
    cr_expect_eq(gradin_write_file(in_folder("a"), "new", 3, &error), GRADIN_IO_FAILED);
    char line[600], expected[600];
    gradin_diagnostic_format(&error.diagnostic[0], line, sizeof line);
    snprintf(expected, sizeof expected, "%s: %s", in_folder("a"), strerror(ENOSPC));
    cr_expect_str_eq(line, expected);
    expect_content("a", "old");
    gradin_write_fail_at(1);
    cr_expect_eq(gradin_write_file(in_folder("b"), "new", 3, NULL), GRADIN_IO_FAILED);
    cr_expect_eq(count_entries(), 1);
    cr_expect_eq(gradin_write_file(in_folder("b"), "new", 3, NULL), GRADIN_OK);
}

Test(files, a_failed_rename_leaves_nothing) {
    cr_assert_eq(mkdir(in_folder("a"), 0777), 0);
    cr_expect_eq(gradin_write_file(in_folder("a"), "new", 3, &error), GRADIN_IO_FAILED);
    cr_expect_eq(count_entries(), 1);
}

Test(files, no_folder_no_file) {
    cr_expect_eq(gradin_write_file(in_folder("none/a"), "new", 3, &error), GRADIN_IO_FAILED);
    char *lengthy = gradin_arena_print(arena, "%s/%05000d", folder, 0);
    cr_expect_eq(gradin_write_file(lengthy, "new", 3, &error), GRADIN_IO_FAILED);
    cr_expect_eq(count_entries(), 0);
}

/* A reader that opens the file at any time finds the whole of the old or of the new text. */
Test(files, a_reader_never_sees_half) {
    static char old[60000], new[60000];
    memset(old, 'o', sizeof old);
    memset(new, 'n', sizeof new);
    cr_assert_eq(gradin_write_file(in_folder("a"), old, sizeof old, &error), GRADIN_OK);
    int before = open(in_folder("a"), O_RDONLY);
    cr_assert_geq(before, 0);
    cr_assert_eq(gradin_write_file(in_folder("a"), new, sizeof new, &error), GRADIN_OK);
    static char seen[60000];
    cr_expect_eq(read(before, seen, sizeof seen), (ssize_t)sizeof seen);
    cr_expect_eq(memcmp(seen, old, sizeof old), 0);
    close(before);
}

static void expect_refusal(const char *name, size_t most, const char *text) {
    char *bytes, line[600], expected[600];
    size_t size;
    gradin_error_clear(&error);
    cr_expect_eq(gradin_read_file(arena, in_folder(name), most, &bytes, &size, &error),
                 GRADIN_BAD_INPUT);
    gradin_diagnostic_format(&error.diagnostic[0], line, sizeof line);
    snprintf(expected, sizeof expected, "%s: %s", in_folder(name), text);
    cr_expect_str_eq(line, expected);
}

Test(files, what_cannot_be_read) {
    cr_assert_eq(gradin_write_file(in_folder("a"), "12345", 5, &error), GRADIN_OK);
    cr_assert_eq(mkdir(in_folder("d"), 0777), 0);
    cr_assert_eq(mkfifo(in_folder("pipe"), 0666), 0);
    expect_refusal("none", 10, "cannot be opened: No such file or directory");
    expect_refusal("d", 10, "is not a regular file");
    expect_refusal("pipe", 10, "is not a regular file");
    expect_refusal("a", 4, "has 5 bytes; at most 4 are read");
}

Test(files, zero_bytes_and_byte_order_marks) {
    cr_assert_eq(gradin_write_file(in_folder("z"), "one\0two", 7, &error), GRADIN_OK);
    expect_refusal("z", 10, "holds a zero byte; plain text is needed");
    cr_assert_eq(gradin_write_file(in_folder("m"), "\xEF\xBB\xBFone", 6, &error), GRADIN_OK);
    expect_content("m", "one");
    cr_assert_eq(gradin_write_file(in_folder("n"), "\xEF\xBB\xBF", 3, &error), GRADIN_OK);
    expect_content("n", "");
    cr_assert_eq(gradin_write_file(in_folder("k"), "\xEF\xBBone", 5, &error), GRADIN_OK);
    expect_content("k", "\xEF\xBBone");
}

Test(files, reading_without_memory) {
    char *bytes;
    size_t size;
    cr_assert_eq(gradin_write_file(in_folder("a"), "12345", 5, &error), GRADIN_OK);
    gradin_alloc_fail_at(1);
    cr_expect_eq(gradin_read_file(arena, in_folder("a"), 10, &bytes, &size, &error),
                 GRADIN_NO_MEMORY);
    cr_expect_eq(gradin_read_file(arena, in_folder("a"), 5, &bytes, &size, &error), GRADIN_OK);
}

Test(files, names_beside) {
    cr_expect_str_eq(gradin_path_beside(arena, "a/b/layout.yaml", "hall.yaml"), "a/b/hall.yaml");
    cr_expect_str_eq(gradin_path_beside(arena, "layout.yaml", "hall.yaml"), "hall.yaml");
    cr_expect_str_eq(gradin_path_beside(arena, "a/layout.yaml", "/x/hall.yaml"), "/x/hall.yaml");
    cr_expect_str_eq(gradin_path_beside(arena, "/layout.yaml", "hall.yaml"), "/hall.yaml");
    cr_expect_str_eq(gradin_path_beside(arena, "a/l.yaml", "../h.yaml"), "a/../h.yaml");
}

Test(files, digest_tells_inputs_and_their_order_apart) {
    char ab[33] = "", ba[33] = "", again[33] = "", joined[33] = "";
    gradin_digest_fold(ab, "a", 1);
    cr_expect_eq(strlen(ab), 32);
    cr_expect_eq(strspn(ab, "0123456789abcdef"), 32);
    gradin_digest_fold(ab, "b", 1);
    gradin_digest_fold(ba, "b", 1);
    gradin_digest_fold(ba, "a", 1);
    gradin_digest_fold(joined, "ab", 2);
    gradin_digest_fold(again, "a", 1);
    gradin_digest_fold(again, "b", 1);
    cr_expect_str_eq(ab, again);
    cr_expect_str_neq(ab, ba);
    cr_expect_str_neq(ab, joined);
}
