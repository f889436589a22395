/* Whole files in and out: nobody sees half a file and nothing is left after a failure. */
#include "base/digest.h"
#include "base/faults.h"
#include "base/temporaries.h"
#include "gradin/run.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
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

Test(files, a_folder_is_no_file) {
    cr_assert_eq(mkdir(in_folder("a"), 0777), 0);
    cr_expect_eq(gradin_write_file(in_folder("a"), "new", 3, &error), GRADIN_BAD_INPUT);
    cr_expect_eq(count_entries(), 1);
}

Test(files, a_file_keeps_its_mode) {
    struct stat info;
    cr_assert_eq(gradin_write_file(in_folder("a"), "old", 3, &error), GRADIN_OK);
    cr_assert_eq(chmod(in_folder("a"), 0600), 0);
    cr_assert_eq(gradin_write_file(in_folder("a"), "new", 3, &error), GRADIN_OK);
    cr_assert_eq(stat(in_folder("a"), &info), 0);
    cr_expect_eq(info.st_mode & 07777, 0600);
    expect_content("a", "new");
}

Test(files, a_file_that_nobody_may_write_stays) {
    cr_assert_eq(gradin_write_file(in_folder("a"), "old", 3, &error), GRADIN_OK);
    cr_assert_eq(chmod(in_folder("a"), 0444), 0);
    cr_expect_eq(gradin_write_file(in_folder("a"), "new", 3, &error), GRADIN_IO_FAILED);
    expect_content("a", "old");
    cr_expect_eq(count_entries(), 1);
}

Test(files, a_link_is_followed) {
    struct stat info;
    cr_assert_eq(gradin_write_file(in_folder("a"), "old", 3, &error), GRADIN_OK);
    cr_assert_eq(symlink("a", in_folder("b")), 0);
    cr_assert_eq(gradin_write_file(in_folder("b"), "new", 3, &error), GRADIN_OK);
    cr_assert_eq(lstat(in_folder("b"), &info), 0);
    cr_expect(S_ISLNK(info.st_mode));
    expect_content("a", "new");
    cr_assert_eq(unlink(in_folder("a")), 0);
    cr_expect_eq(gradin_write_file(in_folder("b"), "new", 3, &error), GRADIN_IO_FAILED);
    cr_expect_eq(count_entries(), 1);
}

Test(files, a_pipe_is_written_to) {
    char seen[4] = "";
    struct stat info;
    cr_assert_eq(mkfifo(in_folder("a"), 0600), 0);
    int end = open(in_folder("a"), O_RDONLY | O_NONBLOCK);
    cr_assert_eq(gradin_write_file(in_folder("a"), "new", 3, &error), GRADIN_OK);
    cr_expect_eq(read(end, seen, 3), 3);
    cr_expect_str_eq(seen, "new");
    cr_assert_eq(stat(in_folder("a"), &info), 0);
    cr_expect(S_ISFIFO(info.st_mode));
    close(end);
}

/* A link that somebody laid where the temporary file would be is not followed. */
Test(files, a_temporary_is_a_new_file) {
    char *name = gradin_arena_print(arena, "%s.%ld-0.tmp", in_folder("a"), (long)getpid());
    cr_assert_eq(gradin_write_file(in_folder("b"), "old", 3, &error), GRADIN_OK);
    cr_assert_eq(symlink("b", name), 0);
    cr_assert_eq(gradin_write_file(in_folder("a"), "new", 3, &error), GRADIN_OK);
    expect_content("a", "new");
    expect_content("b", "old");
    cr_expect_eq(count_entries(), 3);
}

Test(files, what_is_being_written_can_be_abandoned) {
    int slot, other, fd = temporary_open(in_folder("a"), 0644, &slot);
    cr_assert_geq(fd, 0);
    int second = temporary_open(in_folder("a"), 0644, &other);
    cr_assert_geq(second, 0);
    temporary_close(other);
    cr_expect_eq(count_entries(), 2);
    gradin_write_abandon();
    cr_expect_eq(count_entries(), 1); /* what was closed is not touched */
    cr_expect_eq(temporary_open(in_folder("b"), 0644, &slot), -1); /* by a thread that goes on */
    cr_expect_eq(gradin_write_file(in_folder("b"), "new", 3, &error), GRADIN_IO_FAILED);
    cr_expect_eq(count_entries(), 1);
    close(fd);
    close(second);
}

Test(files, an_arena_knows_what_was_read_into_it) {
    const gradin_input *input;
    char *bytes;
    size_t size;
    cr_expect_eq(gradin_inputs(arena, &input), 0);
    cr_expect_eq(gradin_inputs(NULL, &input), 0);
    cr_assert_eq(gradin_write_file(in_folder("a"), "", 0, &error), GRADIN_OK);
    cr_assert_eq(gradin_write_file(in_folder("b"), "abc", 3, &error), GRADIN_OK);
    for (int i = 0; i < 2; i++) {
        cr_assert_eq(gradin_read_file(arena, in_folder("b"), 9, &bytes, &size, &error), GRADIN_OK);
        cr_assert_eq(gradin_read_file(arena, in_folder("a"), 9, &bytes, &size, &error), GRADIN_OK);
    }
    cr_assert_eq(gradin_inputs(arena, &input), 2);
    cr_expect_str_eq(input[0].path, in_folder("b"));
    cr_expect_str_eq(input[1].path, in_folder("a"));
    /* XXH3-128 of "abc" and of nothing; from memory */
    cr_expect_str_eq(input[0].digest, "06b05ab6733a618578af5f94892f3950");
    cr_expect_str_eq(input[1].digest, "99aa06d3014798d86001c324468d497f");
}

/* In blocks as at once: the digest of an input that is read whole. */
Test(files, a_file_longer_than_a_block_has_one_digest) {
    static char long_text[200001];
    const gradin_input *input;
    char *bytes, hex[33];
    size_t size;
    for (size_t i = 0; i + 1 < sizeof long_text; i++) long_text[i] = (char)('a' + i * i % 23);
    cr_assert_eq(gradin_write_file(in_folder("a"), "abc", 3, &error), GRADIN_OK);
    cr_assert_eq(gradin_file_digest(in_folder("a"), hex, &error), GRADIN_OK);
    cr_expect_str_eq(hex, "06b05ab6733a618578af5f94892f3950"); /* from memory, as above */
    cr_assert_eq(gradin_write_file(in_folder("b"), long_text, 200000, &error), GRADIN_OK);
    cr_assert_eq(gradin_file_digest(in_folder("b"), hex, &error), GRADIN_OK);
    cr_assert_eq(gradin_read_file(arena, in_folder("b"), 200000, &bytes, &size, &error), GRADIN_OK);
    cr_assert_eq(gradin_inputs(arena, &input), 1);
    cr_expect_str_eq(hex, input[0].digest);
    cr_expect_eq(gradin_file_digest(in_folder("none"), hex, &error), GRADIN_BAD_INPUT);
}

/* Which mistakes are the caller's: a full table of open files is not. */
Test(files, a_machine_that_cannot_open_is_no_bad_input) {
    char *bytes;
    size_t size;
    cr_assert_eq(gradin_write_file(in_folder("a"), "one", 3, &error), GRADIN_OK);
    struct rlimit few;
    getrlimit(RLIMIT_NOFILE, &few);
    rlim_t most = few.rlim_cur;
    few.rlim_cur = 0;
    setrlimit(RLIMIT_NOFILE, &few);
    cr_expect_eq(gradin_read_file(arena, in_folder("a"), 9, &bytes, &size, &error),
                 GRADIN_IO_FAILED);
    few.rlim_cur = most;
    setrlimit(RLIMIT_NOFILE, &few);
    cr_expect_eq(gradin_read_file(arena, in_folder("c"), 9, &bytes, &size, &error),
                 GRADIN_BAD_INPUT);
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
