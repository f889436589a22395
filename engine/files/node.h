/* files/node.h: a YAML file as a tree of nodes that know their place. */
#ifndef GRADIN_LAYOUT_NODE_H
#define GRADIN_LAYOUT_NODE_H

#include "gradin/base.h"

enum { MAX_DEPTH = 32, MAX_TEXT_CHARS = 500, MAX_FILE_BYTES = 16 * 1024 * 1024 };

typedef enum node_kind { NODE_TEXT, NODE_LIST, NODE_MAP } node_kind;

typedef struct node {
    node_kind kind;
    const char *file;
    int line, column;         /* 1-based */
    int key_line, key_column; /* of its key; 0 in a list and at the root */
    const char *path;         /* dotted, "" at the root */
    const char *text;         /* NODE_TEXT */
    bool is_quoted;
    int n_child;
    struct node **child; /* [n_child] */
    const char **key;    /* [n_child], NODE_MAP only */
} node;

/* One file being read. Errors go to `error` and are counted in n_error; memory and I/O failures
 * stop the reading and stay in `failed`. */
typedef struct reader {
    gradin_arena *arena;
    gradin_error *error;
    const char *file;
    double unit_m; /* metres in one unit of length of this file */
    const char *unit_name;
    const struct node *named_by; /* where another file names this one, or NULL */
    char *digest;                /* running digest [33] of all files read, or NULL */
    int n_error;
    gradin_status failed;
    const char *given_path, *given; /* text that stands for the file of this path, or NULL */
    int n_triangle;                 /* of the model files read so far */
    const char **note;              /* [n_note] for the user: accepted, but worth knowing */
    int n_note, note_capacity;
} reader;

/* Reads and parses the file; NULL after an error (in r->n_error or r->failed). Refuses aliases,
 * anchors, duplicate keys, tabs, a second document, an empty file, nesting beyond MAX_DEPTH. */
node *node_read(reader *r, const char *path);

/* Adds a diagnostic at the node (NULL: the file). */
void complain(reader *r, const node *at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* The same at a key below the node that is missing or wrong as a whole. */
void complain_key(reader *r, const node *at, const char *key, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Adds a note for the user; NULL is a failure already kept. */
void add_note(reader *r, const char *text);

/* Folds a file's bytes into the running digest. */
void reader_digest(reader *r, const void *bytes, size_t size);

/* The same at a line of a file that is no YAML. */
void complain_line(reader *r, const char *file, int line, const char *text);

/* Passes the block on; NULL is kept as the failure GRADIN_NO_MEMORY. */
void *kept(reader *r, void *block);
/* Arena shorthands that keep the failure in r->failed and return NULL. */
void *take(reader *r, int count, size_t size);
char *print_text(reader *r, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* gradin_arena_grow with the failure kept; false when out of memory. */
bool grow(reader *r, void **items, int count, int *capacity, size_t size);

/* GRADIN_OK, GRADIN_BAD_INPUT or the failure. */
gradin_status reader_status(const reader *r);

#endif
