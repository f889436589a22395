/* tools/record.h: what results.c and record.c share of the folder that a run writes into. */
#ifndef GRADIN_RECORD_H
#define GRADIN_RECORD_H

#include "command.h"

#include <sys/types.h>
#include <time.h>

/* A regular file of the folder as it was found. */
typedef struct found_file {
    char *name;
    dev_t device;
    ino_t inode;
    struct timespec changed;
} found_file;

typedef struct found_files {
    found_file *file; /* [n], by name */
    int n, capacity;
} found_files;

typedef struct result_folder {
    const verb_form *verb;
    char *const *argument; /* [n_argument] */
    int n_argument;
    gradin_arena *arena; /* NULL until a folder is opened */
    const char *path, *mark;
    int fd;                      /* locked */
    found_files before, written; /* written: as each file stood after this run wrote it */
} result_folder;

/* NULL when there is none. */
const found_file *file_in(const found_files *list, const char *name);

/* Was anything written since the folder was opened, but its mark? */
bool has_result(const result_folder *folder, const found_files *now);

/* Writes run-VERB.txt. At the end of a run it removes what an earlier run of the verb wrote and
 * this one did not, unless somebody changed it since, this run read it, or it is a draft and this
 * run drafted none; and it says which files it leaves alone. */
bool write_record(const result_folder *folder, const gradin_arena *read_into,
                  const found_files *now, bool is_last);

/* GRADIN_BAD_INPUT when the folder held the file at its opening and it is not as a run of the verb
 * left it. */
gradin_status record_allows(const result_folder *folder, const char *name, gradin_error *error);

#endif
