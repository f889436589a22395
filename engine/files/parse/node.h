/* files/node.h: a YAML file as a tree of nodes that know their place. */
#ifndef GRADIN_FILES_NODE_H
#define GRADIN_FILES_NODE_H

#include "base/complaints.h"

enum { MAX_DEPTH = 32, MAX_TEXT_CHARS = 500, MAX_FILE_BYTES = 16 * 1024 * 1024 };

typedef enum node_kind { NODE_TEXT, NODE_LIST, NODE_MAP } node_kind;

typedef struct node {
    node_kind kind;
    gradin_place place;       /* its key is the dotted path, "" at the root */
    int key_line, key_column; /* of its key; 0 in a list and at the root */
    const char *text;         /* NODE_TEXT */
    bool is_quoted;
    int n_child;
    struct node **child; /* [n_child] */
    const char **key;    /* [n_child], NODE_MAP only */
} node;

/* Files as they were folded into a digest, to fold them into another one. */
typedef struct folded {
    gradin_bytes *file; /* [n] */
    int n, capacity;
} folded;

struct shelf;
struct value_changes;

/* One file being read. */
typedef struct reader {
    complaints c;
    double unit_m; /* metres in one unit of length of this file */
    const char *unit_name;
    const struct node *named_by;    /* where another file names this one, or NULL */
    char *digest;                   /* running digest [33] of all files read, or NULL */
    folded *folded;                 /* keeps what goes into the digest, or NULL */
    struct shelf *shelf;            /* venues read before, or NULL */
    const char *given_path, *given; /* text that stands for the file of this path, or NULL */
    struct value_changes *changes;  /* of values, as files are read, or NULL */
    int n_triangle;                 /* of the model files read so far */
} reader;

/* Reads and parses the file; NULL after an error (in r->c.n_error or r->c.failed). Refuses aliases,
 * anchors, duplicate keys, tabs, a second document, an empty file, nesting beyond MAX_DEPTH. */
node *node_read(reader *r, const char *path);

/* Adds a diagnostic at the node (NULL: the file). */
void complain(reader *r, const node *at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* The same at a key below the node that is missing or wrong as a whole. */
void complain_key(reader *r, const node *at, const char *key, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Where the node stands; NULL for none. */
const gradin_place *place_of(const node *at);

/* Folds a file's bytes into the running digest. */
void reader_digest(reader *r, const void *bytes, size_t size);

/* Whether a file that `at` names (NULL: nobody) was read; if not, the complaint or the failure is
 * kept: what may not be opened is a mistake of the input, a read that fails is the machine's. */
bool was_read(reader *r, const node *at, const char *path, gradin_status status,
              const gradin_error *reason);

/* The same at a line of a file that is no YAML. */
void complain_line(reader *r, const char *file, int line, const char *text);

#endif
