/* Kinds of towers and lift grids: before the machines are read, an entry that names a kind gets
 * every key that it does not state itself. Maps are joined key by key, all else is replaced. */
#include "files/venue/read.h"

#include <string.h>

static node *join(reader *r, const node *own, const node *kind);

/* own[i] or what it has in common with the kind. */
static node *own_child(reader *r, const node *own, int i, const node *kind) {
    const node *other = map_get(kind, own->key[i]);
    bool are_maps = other && other->kind == NODE_MAP && own->child[i]->kind == NODE_MAP;
    return are_maps ? join(r, own->child[i], other) : own->child[i];
}

/* A map with the keys of both; it stands where `own` stands. */
static node *join(reader *r, const node *own, const node *kind) {
    node *made = alloc(&r->c, 1, sizeof *made);
    int most = own->n_child + kind->n_child;
    node **child = alloc(&r->c, most, sizeof(node *));
    const char **key = alloc(&r->c, most, sizeof *key);
    if (!made || !child || !key) return NULL;
    *made = *own;
    made->child = child;
    made->key = key;
    made->n_child = 0;
    for (int i = 0; i < own->n_child; i++) {
        key[made->n_child] = own->key[i];
        child[made->n_child++] = own_child(r, own, i, kind);
    }
    for (int i = 0; i < kind->n_child; i++) {
        if (map_get(own, kind->key[i])) continue;
        key[made->n_child] = kind->key[i];
        child[made->n_child++] = kind->child[i];
    }
    return made;
}

/* The kind that `at` names, or NULL after a complaint. */
static const node *find_kind(reader *r, const node *at, const node *kinds) {
    const char *names[64];
    int n = 0;
    for (int i = 0; kinds && i < kinds->n_child && n < 64; i++) {
        const node *name = map_get(kinds->child[i], "name");
        if (strcmp(name->text, at->text) == 0) return kinds->child[i];
        names[n++] = name->text;
    }
    complain_unknown(r, at, "kind", at->text, names, n);
    return NULL;
}

static void apply_one(reader *r, node *list, int i, const node *kinds) {
    node *entry = list->child[i];
    const node *at = entry->kind == NODE_MAP ? map_get(entry, "kind") : NULL;
    const node *kind = at && at->kind == NODE_TEXT ? find_kind(r, at, kinds) : NULL;
    node *made = kind ? join(r, entry, kind) : NULL;
    if (made) list->child[i] = made;
}

/* A kind takes after no other. */
static void refuse_chains(reader *r, const node *kinds) {
    for (int i = 0; kinds && i < kinds->n_child; i++)
        if (map_get(kinds->child[i], "kind"))
            complain_key(r, kinds->child[i], "kind", "stands in a kind; kinds take after none");
}

static void apply_list(reader *r, const node *machines, const node *all, const char *key) {
    const node *kinds = all ? map_get(all, key) : NULL;
    refuse_chains(r, kinds);
    for (int m = 0; m < machines->n_child; m++) {
        node *list = machines->child[m];
        if (strcmp(machines->key[m], key) != 0 || list->kind != NODE_LIST) continue;
        for (int i = 0; i < list->n_child; i++) apply_one(r, list, i, kinds);
    }
}

bool apply_kinds(reader *r, const node *root) {
    const node *machines = map_get(root, "machines");
    const node *all = machines ? map_get(machines, "kinds") : NULL;
    stated_kinds s;
    int before = r->c.n_error;
    if (!machines || machines->kind != NODE_MAP) return true;
    /* What is wrong in a kind is told there, once. */
    if (all && !SCHEMA_READ(r, all, &kinds_table, &s)) return false;
    apply_list(r, machines, all, "lifts");
    apply_list(r, machines, all, "towers");
    return r->c.n_error == before && r->c.failed == GRADIN_OK;
}
