/* Venues read before: layouts that are read together share the venue that they name. What its files
 * bring to a layout's digest, notes and count of triangles is brought again. */
#include "files/venue/read.h"

#include <string.h>

typedef struct shelved {
    const char *path;
    gradin_venue venue;
    folded folded;
    const char *const *note; /* [n_note] */
    int n_note, n_triangle;
    struct shelved *next;
} shelved;

static shelved *find(const shelf *s, const char *path) {
    shelved *one = s->first;
    while (one && strcmp(one->path, path) != 0) one = one->next;
    return one;
}

static bool take_again(reader *r, const shelved *from, gradin_venue *v) {
    *v = from->venue;
    for (int i = 0; i < from->folded.n; i++)
        reader_digest(r, from->folded.file[i].at, from->folded.file[i].size);
    for (int i = 0; i < from->n_note; i++) add_note(&r->c, from->note[i]);
    r->n_triangle += from->n_triangle;
    return r->c.failed == GRADIN_OK;
}

/* The notes are copied: the list they stand in grows on. */
static bool put_away(reader *r, shelved *made, const gradin_venue *v, int n_note, int n_triangle) {
    const char **note = alloc(&r->c, r->c.n_note - n_note, sizeof *note);
    if (!note) return false;
    made->n_note = r->c.n_note - n_note;
    for (int i = 0; i < made->n_note; i++) note[i] = r->c.note[n_note + i];
    made->note = note;
    made->venue = *v;
    made->n_triangle = r->n_triangle - n_triangle;
    made->next = r->shelf->first;
    r->shelf->first = made;
    return true;
}

bool venue_read_once(reader *r, const char *path, gradin_venue *v) {
    if (!r->shelf) return venue_read(r, path, v);
    shelved *made = find(r->shelf, path);
    if (made) return take_again(r, made, v);
    made = alloc(&r->c, 1, sizeof *made);
    if (!made) return false;
    int n_note = r->c.n_note, n_triangle = r->n_triangle;
    made->path = path;
    r->folded = &made->folded;
    bool good = venue_read(r, path, v);
    r->folded = NULL;
    return good && put_away(r, made, v, n_note, n_triangle);
}
