/* run-VERB.txt: what was run in a folder of results, what was read and what was written, with the
 * digests of both. By it the next run of the verb knows what is its to remove, and choose --draft
 * what it may draft anew: a file that is still as it was written. */
#include "record.h"

#include "gradin/run.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NAMED = 6, MOST_BYTES = 1 << 20 }; /* files of a note; of a record */

/* A file as a record names it. */
typedef struct recorded_file {
    const char *name, *digest;
    bool is_kept, is_by_verb; /* left alone by that run; named by a run of the same verb */
} recorded_file;

typedef struct recorded_files {
    recorded_file *file; /* [n] */
    int n, capacity;
} recorded_files;

typedef enum file_fate { OF_A_RUN, WRITTEN, STALE, KEPT, CHANGED, STRANGE } file_fate;

static bool starts_with(const char *text, const char *start) {
    return strncmp(text, start, strlen(start)) == 0;
}

/* A name that a record may give: of a file in this folder. */
static bool is_plain(const char *name) {
    return *name && !strchr(name, '/') && strcmp(name, ".") != 0 && strcmp(name, "..") != 0;
}

static const char *path_of(const result_folder *folder, const char *name) {
    return gradin_arena_print(folder->arena, "%s/%s", folder->path, name);
}

static const char *record_of(const result_folder *folder) {
    return gradin_arena_print(folder->arena, "run-%s.txt", folder->verb->name);
}

/* "file\tDIGEST NAME", or "kept": other lines are passed over. */
static bool read_line(const result_folder *folder, char *line, bool is_by_verb,
                      recorded_files *list) {
    bool is_kept = starts_with(line, "kept\t");
    char *digest = line + 5, *space = strchr(line, ' ');
    if ((!is_kept && !starts_with(line, "file\t")) || !space || !is_plain(space + 1)) return true;
    *space = '\0';
    if (gradin_arena_grow(folder->arena, (void **)&list->file, list->n, &list->capacity,
                          sizeof *list->file) != GRADIN_OK)
        return false;
    list->file[list->n++] = (recorded_file){space + 1, digest, is_kept, is_by_verb};
    return true;
}

/* What is no record, though it is called one, names nothing. False when memory or the disk fails.
 */
static bool read_record(const result_folder *folder, const char *name, recorded_files *list) {
    char *bytes, *rest;
    size_t size;
    const char *path = path_of(folder, name), *own = record_of(folder);
    if (!path || !own) return false;
    gradin_status status = gradin_read_file(folder->arena, path, MOST_BYTES, &bytes, &size, NULL);
    if (status != GRADIN_OK) return status == GRADIN_BAD_INPUT;
    bool is_good = true;
    for (char *line = strtok_r(bytes, "\n", &rest); line && is_good;
         line = strtok_r(NULL, "\n", &rest))
        is_good = read_line(folder, line, strcmp(name, own) == 0, list);
    return is_good;
}

static bool read_records(const result_folder *folder, const found_files *now,
                         recorded_files *list) {
    bool is_good = true;
    for (int i = 0; i < now->n && is_good; i++)
        if (starts_with(now->file[i].name, "run-"))
            is_good = read_record(folder, now->file[i].name, list);
    return is_good;
}

/* As the verb's own record has it, else as another one; NULL when none names it. */
static const recorded_file *recorded_in(const recorded_files *list, const char *name) {
    const recorded_file *found = NULL;
    for (int i = 0; i < list->n; i++)
        if (strcmp(list->file[i].name, name) == 0 && (!found || list->file[i].is_by_verb))
            found = &list->file[i];
    return found;
}

static gradin_status digest_of(const result_folder *folder, const char *name, char hex[33],
                               gradin_error *error) {
    const char *path = path_of(folder, name);
    return path ? gradin_file_digest(path, hex, error)
                : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* This run wrote it. A file that came meanwhile is somebody else's. */
static bool is_result(const result_folder *folder, const found_file *file) {
    for (int i = 0; i < folder->written.n; i++)
        if (folder->written.file[i].inode == file->inode &&
            folder->written.file[i].device == file->device)
            return true;
    return false;
}

bool has_result(const result_folder *folder, const found_files *now) {
    for (int i = 0; i < now->n; i++)
        if (is_result(folder, &now->file[i])) return true;
    return false;
}

static bool is_input(const found_file *file, const gradin_arena *read_into) {
    const gradin_input *input;
    struct stat info;
    int n = gradin_inputs(read_into, &input);
    for (int i = 0; i < n; i++)
        if (stat(input[i].path, &info) == 0 && info.st_ino == file->inode &&
            info.st_dev == file->device)
            return true;
    return false;
}

static bool is_draft(const char *name) {
    const char *end = strrchr(name, '.');
    return end && strcmp(end, ".yaml") == 0;
}

/* Did this run write drafts of its own? Earlier ones are something to go on from until then. */
static bool has_new_draft(const result_folder *folder, const found_files *now) {
    for (int i = 0; i < now->n; i++)
        if (is_draft(now->file[i].name) && is_result(folder, &now->file[i])) return true;
    return false;
}

/* A file that an earlier run of the verb wrote, and this one did not. */
static bool find_old_fate(const result_folder *folder, const recorded_file *was,
                          const found_file *file, const gradin_arena *read_into, bool keeps_drafts,
                          file_fate *fate) {
    char hex[33];
    *fate = KEPT;
    if (was->is_kept || is_input(file, read_into) || (keeps_drafts && is_draft(file->name)))
        return true;
    if (digest_of(folder, file->name, hex, NULL) != GRADIN_OK) return false;
    *fate = strcmp(hex, was->digest) == 0 ? STALE : CHANGED;
    return true;
}

static bool find_fate(const result_folder *folder, const recorded_files *list,
                      const found_file *file, const gradin_arena *read_into, bool keeps_drafts,
                      file_fate *fate) {
    const recorded_file *was = recorded_in(list, file->name);
    *fate = OF_A_RUN;
    if (starts_with(file->name, "UNFINISHED-")) return true;
    *fate = WRITTEN;
    if (is_result(folder, file)) return true;
    *fate = OF_A_RUN;
    if (starts_with(file->name, "run-") || (was && !was->is_by_verb)) return true;
    if (was) return find_old_fate(folder, was, file, read_into, keeps_drafts, fate);
    *fate = is_input(file, read_into) ? OF_A_RUN : STRANGE;
    return true;
}

/* One line of the record. What would break the line is shown as '?'. */
static void add_line(const result_folder *folder, char **text, const char *key, const char *value) {
    char *plain = value ? gradin_arena_copy_text(folder->arena, value) : NULL;
    if (plain) gradin_plain_line(plain);
    *text =
        *text && plain ? gradin_arena_print(folder->arena, "%s%s\t%s\n", *text, key, plain) : NULL;
}

/* The folder itself is left out: it may be moved. */
static void add_arguments(const result_folder *folder, char **text) {
    for (int i = 0; i < folder->n_argument; i++) {
        if (strcmp(folder->argument[i], "--out") == 0)
            i++;
        else if (!starts_with(folder->argument[i], "--out="))
            add_line(folder, text, "argument", folder->argument[i]);
    }
}

static void add_digested(const result_folder *folder, char **text, const char *key,
                         const char *digest, const char *name) {
    add_line(folder, text, key, gradin_arena_print(folder->arena, "%s %s", digest, name));
}

static void add_inputs(const result_folder *folder, char **text, const gradin_arena *read_into) {
    const gradin_input *input;
    const char *own = record_of(folder), *record = own ? path_of(folder, own) : NULL;
    int n = gradin_inputs(read_into, &input);
    for (int i = 0; i < n; i++) {
        char *path = record ? gradin_path_from(folder->arena, record, input[i].path) : NULL;
        add_digested(folder, text, "input", input[i].digest, path ? path : input[i].path);
    }
}

/* What is written and what is left alone, with its digest as it was written. What is to be removed
 * is named as long as it is there. */
static bool add_files(const result_folder *folder, char **text, const found_files *now,
                      const file_fate *fate, const recorded_files *list) {
    char hex[33];
    for (int i = 0; i < now->n; i++) {
        const char *name = now->file[i].name;
        if (fate[i] == WRITTEN) {
            if (digest_of(folder, name, hex, NULL) != GRADIN_OK) return false;
            add_digested(folder, text, "file", hex, name);
        } else if (fate[i] == KEPT || fate[i] == CHANGED || fate[i] == STALE) {
            const recorded_file *was = recorded_in(list, name);
            add_digested(folder, text, fate[i] == STALE ? "file" : "kept", was->digest, name);
        } else if (fate[i] == STRANGE) {
            add_line(folder, text, "not ours", name);
        }
    }
    return true;
}

/* Names on stderr what is left alone, and why. */
static void name_left(const result_folder *folder, const found_files *now, const file_fate *fate,
                      file_fate which, const char *why) {
    const char *names = "";
    int n = 0;
    for (int i = 0; i < now->n && names; i++)
        if (fate[i] == which && ++n <= NAMED)
            names = gradin_arena_print(folder->arena, "%s%s%s", names, n > 1 ? ", " : "",
                                       now->file[i].name);
    if (n > NAMED && names)
        names = gradin_arena_print(folder->arena, "%s and %d more", names, n - NAMED);
    if (n > 0 && names) say("note: %s holds %s, left alone: %s", folder->path, why, names);
}

static bool find_fates(const result_folder *folder, const recorded_files *list,
                       const found_files *now, const gradin_arena *read_into, file_fate *fate) {
    bool is_good = fate != NULL, keeps_drafts = !has_new_draft(folder, now);
    for (int i = 0; i < now->n && is_good; i++)
        is_good = find_fate(folder, list, &now->file[i], read_into, keeps_drafts, &fate[i]);
    return is_good;
}

static char *record_text(const result_folder *folder, const gradin_arena *read_into,
                         const found_files *now, const file_fate *fate,
                         const recorded_files *list) {
    char *text = gradin_arena_copy_text(folder->arena, "gradin-run-1\n");
    add_line(folder, &text, "version", GRADIN_VERSION);
    add_line(folder, &text, "verb", folder->verb->name);
    add_arguments(folder, &text);
    add_inputs(folder, &text, read_into);
    return add_files(folder, &text, now, fate, list) ? text : NULL;
}

/* Says what is left alone, and removes what is stale, which no record then names. */
static void tidy(const result_folder *folder, const found_files *now, file_fate *fate) {
    name_left(folder, now, fate, STRANGE, "what no run there wrote");
    name_left(folder, now, fate, CHANGED, "what was changed since a run wrote it");
    for (int i = 0; i < now->n; i++) {
        if (fate[i] != STALE) continue;
        unlinkat(folder->fd, now->file[i].name, 0);
        fate[i] = OF_A_RUN;
    }
}

bool write_record(const result_folder *folder, const gradin_arena *read_into,
                  const found_files *now, bool is_last) {
    recorded_files list = {0};
    file_fate *fate = gradin_arena_alloc(folder->arena, (size_t)now->n + 1, sizeof *fate);
    const char *own = record_of(folder), *record = own ? path_of(folder, own) : NULL;
    if (!record || !read_records(folder, now, &list) ||
        !find_fates(folder, &list, now, read_into, fate))
        return false;
    if (is_last) tidy(folder, now, fate);
    const char *text = record_text(folder, read_into, now, fate, &list);
    return text && gradin_write_file(record, text, strlen(text), NULL) == GRADIN_OK;
}

gradin_status record_allows(const result_folder *folder, const char *name, gradin_error *error) {
    char hex[33];
    recorded_files list = {0};
    if (!file_in(&folder->before, name)) return GRADIN_OK;
    if (!read_records(folder, &folder->before, &list))
        return gradin_error_add(error, GRADIN_IO_FAILED, &(gradin_place){.file = folder->path},
                                "the records of earlier runs cannot be read");
    const recorded_file *was = recorded_in(&list, name);
    bool is_ours = was && was->is_by_verb;
    gradin_status status = is_ours ? digest_of(folder, name, hex, error) : GRADIN_OK;
    if (status != GRADIN_OK || (is_ours && strcmp(hex, was->digest) == 0)) return status;
    return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = path_of(folder, name)},
                            "is there, and not as the last run left it; move it away, or name "
                            "another folder");
}
