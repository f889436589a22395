/* files/parse/changes.h: single values of files replaced after they are read, by the path of their
 * key: "facade.glazing[west glass].buildup". An entry of a list is named, or counted from 1; [*] is
 * every entry. */
#ifndef GRADIN_FILES_CHANGES_H
#define GRADIN_FILES_CHANGES_H

#include "files/parse/node.h"

enum { MOST_PATH_STEPS = 16 };

typedef struct path_step {
    const char *text;
    bool is_entry; /* in brackets */
} path_step;

typedef struct value_change {
    const char *format; /* of the files that it is for */
    const char *path, *value;
    const gradin_place *at; /* where it is asked for */
    int n_done;             /* values replaced so far */
} value_change;

typedef struct value_changes {
    value_change *change; /* [n] */
    int n;
    bool has_failed; /* one had no place in its file */
} value_changes;

/* The steps of a path; 0 after a complaint at the place. */
int path_steps(reader *r, const gradin_place *at, const char *path,
               path_step step[MOST_PATH_STEPS]);
/* Changes a file that was read, once for each path and value that is for its format. */
void changes_apply(reader *r, node *root);

#endif
