/* glTF 2.0 in its binary container (ISO/IEC 12113:2022): a header, a chunk of JSON, a chunk of
 * numbers, each whole in fours, least byte first. Metres, y up, x to the plan's east, so that north
 * is -z. Colours are linear there: from sRGB by IEC 61966-2-1. Corners are whole tenths of a
 * millimetre, so that the bounds in JSON are the very numbers of the chunk. */
#include "base/shared/plain.h"
#include "base/use.h"
#include "render/export/glb.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { HEADER = 12, CHUNK = 8, FLOAT_BYTES = 4, CORNER_BYTES = 3 * FLOAT_BYTES };

int glb_add_form(glb_scene *s, int first) {
    if (s->failed || s->all.failed || s->all.n == first) return -1;
    if (gradin_arena_grow(s->arena, (void **)&s->form, s->n_form, &s->form_capacity,
                          sizeof *s->form) != GRADIN_OK) {
        s->failed = true;
        return -1;
    }
    s->form[s->n_form] = (glb_form){first, s->all.n - first};
    return s->n_form++;
}

static bool same_paint(const glb_paint *a, const glb_paint *b) {
    return a->ink.r == b->ink.r && a->ink.g == b->ink.g && a->ink.b == b->ink.b &&
           a->alpha == b->alpha && a->is_one_sided == b->is_one_sided;
}

int glb_find_paint(glb_scene *s, glb_paint paint) {
    for (int i = 0; i < s->n_paint; i++)
        if (same_paint(&s->paint[i], &paint)) return i;
    if (s->failed || gradin_arena_grow(s->arena, (void **)&s->paint, s->n_paint, &s->paint_capacity,
                                       sizeof paint) != GRADIN_OK) {
        s->failed = true;
        return -1;
    }
    s->paint[s->n_paint] = paint;
    return s->n_paint++;
}

void glb_add_node(glb_scene *s, glb_node node) {
    if (s->failed || gradin_arena_grow(s->arena, (void **)&s->node, s->n_node, &s->node_capacity,
                                       sizeof node) != GRADIN_OK)
        s->failed = true;
    else
        s->node[s->n_node++] = node;
}

/* Text that grows; the first failure sticks. */
typedef struct growing {
    gradin_arena *arena;
    char *bytes;
    size_t size, capacity;
    bool failed;
} growing;

static void put(growing *g, const char *piece, size_t size) {
    if (g->failed) return;
    if (g->size + size > g->capacity) {
        size_t capacity = 2 * (g->size + size) + 4096;
        char *bytes = gradin_arena_alloc(g->arena, capacity, 1);
        if (!bytes) {
            g->failed = true;
            return;
        }
        if (g->size > 0) memcpy(bytes, g->bytes, g->size);
        g->bytes = bytes;
        g->capacity = capacity;
    }
    memcpy(g->bytes + g->size, piece, size);
    g->size += size;
}

static void say(growing *g, const char *piece) {
    put(g, piece, strlen(piece));
}

static void print(growing *g, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void print(growing *g, const char *format, ...) {
    char text[256];
    va_list values;
    va_start(values, format);
    int size = plain_print_list(text, sizeof text, format, values);
    va_end(values);
    if (size < 0 || (size_t)size >= sizeof text)
        g->failed = true;
    else
        put(g, text, (size_t)size);
}

static void put_number(growing *g, double value, int decimals) {
    char text[64];
    say(g, gradin_format_fixed(text, sizeof text, value, decimals));
}

const char *glb_quoted(gradin_arena *arena, const char *text) {
    growing g = {.arena = arena};
    say(&g, "\"");
    for (const char *c = text; *c; c++) {
        if (*c == '"' || *c == '\\') say(&g, "\\");
        if ((unsigned char)*c < 0x20)
            print(&g, "\\u%04x", (unsigned)(unsigned char)*c);
        else
            put(&g, c, 1);
    }
    put(&g, "\"", 2); /* with its end */
    return g.failed ? NULL : g.bytes;
}

static void put_name(growing *g, const char *name) {
    const char *quoted = glb_quoted(g->arena, name);
    if (quoted)
        say(g, quoted);
    else
        g->failed = true;
}

static double whole(double value_m) {
    double rounded = nearbyint(value_m * 1e4) / 1e4;
    return rounded == 0.0 ? 0.0 : rounded; /* no minus before zero */
}

/* East, up, south. */
static gradin_vec3 turned_up(gradin_vec3 v) {
    return (gradin_vec3){whole(v.x), whole(v.z), whole(-v.y)};
}

static void put_point(growing *g, const char *key, gradin_vec3 v) {
    print(g, ",\"%s\":[", key);
    put_number(g, v.x, 4);
    say(g, ",");
    put_number(g, v.y, 4);
    say(g, ",");
    put_number(g, v.z, 4);
    say(g, "]");
}

static void put_accessors(growing *g, const glb_scene *s) {
    say(g, ",\"accessors\":[");
    for (int i = 0; i < s->n_form; i++) {
        glb_form f = s->form[i];
        gradin_vec3 low = turned_up(s->all.vertex[f.first]), high = low;
        for (int k = f.first; k < f.first + f.n; k++) {
            gradin_vec3 v = turned_up(s->all.vertex[k]);
            low = (gradin_vec3){fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z)};
            high = (gradin_vec3){fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z)};
        }
        print(g,
              "%s{\"bufferView\":0,\"byteOffset\":%zu,\"componentType\":5126,\"count\":%d,"
              "\"type\":\"VEC3\"",
              i ? "," : "", (size_t)f.first * CORNER_BYTES, f.n);
        put_point(g, "min", low);
        put_point(g, "max", high);
        say(g, "}");
    }
    say(g, "]");
}

static void put_materials(growing *g, const glb_scene *s) {
    say(g, ",\"materials\":[");
    for (int i = 0; i < s->n_paint; i++) {
        const glb_paint *p = &s->paint[i];
        print(g, "%s{\"pbrMetallicRoughness\":{\"baseColorFactor\":[", i ? "," : "");
        const double part[] = {colour_linear(p->ink.r), colour_linear(p->ink.g),
                               colour_linear(p->ink.b), p->alpha};
        for (int k = 0; k < 4; k++) {
            if (k > 0) say(g, ",");
            put_number(g, part[k], 6);
        }
        print(g, "],\"metallicFactor\":0,\"roughnessFactor\":0.9}%s%s}",
              p->alpha < 1.0 ? ",\"alphaMode\":\"BLEND\"" : "",
              p->is_one_sided ? "" : ",\"doubleSided\":true");
    }
    say(g, "]");
}

/* A mesh is a form with a paint: mesh[n_node] gets each node's. */
static void number_meshes(growing *g, const glb_scene *s, int *mesh) {
    size_t n_pair = (size_t)s->n_form * (size_t)s->n_paint;
    int *of_pair = gradin_arena_alloc(g->arena, n_pair, sizeof *of_pair), n = 0;
    if (!of_pair) {
        g->failed = true;
        return;
    }
    for (int i = 0; i < s->n_node; i++) {
        int *pair =
            &of_pair[(size_t)s->node[i].form * (size_t)s->n_paint + (size_t)s->node[i].paint];
        if (*pair == 0) {
            *pair = ++n;
            print(g, "%s{\"primitives\":[{\"attributes\":{\"POSITION\":%d},\"material\":%d}]}",
                  n > 1 ? "," : "", s->node[i].form, s->node[i].paint);
        }
        mesh[i] = *pair - 1;
    }
}

static void put_place(growing *g, const glb_node *node) {
    double half = gradin_rad(-node->facing_deg) / 2.0; /* about the upright, against the clock */
    gradin_vec3 at = turned_up(node->at_m);
    put_point(g, "translation", at);
    say(g, ",\"rotation\":[0,");
    put_number(g, sin(half), 9);
    say(g, ",0,");
    put_number(g, cos(half), 9);
    say(g, "]");
}

static const char *const group_name[N_GLB_GROUP] = {
    "room", "lifts", "towers", "structure", "arch", "rails", "glazing", "doors", "focus", "seats"};

/* The parts first, then a node per group that has any, then those as the scene. */
static void put_nodes(growing *g, const glb_scene *s, const int *mesh, const char *extras) {
    int n_group = 0;
    say(g, ",\"nodes\":[");
    for (int i = 0; i < s->n_node; i++) {
        print(g, "%s{\"mesh\":%d,\"name\":", i ? "," : "", mesh[i]);
        put_name(g, s->node[i].name);
        if (s->node[i].is_placed) put_place(g, &s->node[i]);
        if (s->node[i].extras) {
            say(g, ",\"extras\":{");
            say(g, s->node[i].extras);
            say(g, "}");
        }
        say(g, "}");
    }
    for (int group = 0; group < N_GLB_GROUP; group++) {
        bool has_any = false;
        for (int i = 0; i < s->n_node; i++) {
            if ((int)s->node[i].group != group) continue;
            if (!has_any) print(g, ",{\"name\":\"%s\",\"children\":[", group_name[group]);
            print(g, "%s%d", has_any ? "," : "", i);
            has_any = true;
        }
        if (has_any) say(g, "]}");
        n_group += has_any;
    }
    say(g, "],\"scene\":0,\"scenes\":[{\"nodes\":[");
    for (int k = 0; k < n_group; k++) print(g, "%s%d", k ? "," : "", s->n_node + k);
    say(g, "],\"extras\":{");
    say(g, extras);
    say(g, "}}]}");
}

static void put_json(growing *g, const glb_scene *s, const char *extras) {
    int *mesh = gradin_arena_alloc(g->arena, (size_t)s->n_node, sizeof *mesh);
    size_t n_byte = (size_t)s->all.n * CORNER_BYTES;
    if (!mesh) {
        g->failed = true;
        return;
    }
    say(g, "{\"asset\":{\"version\":\"2.0\",\"generator\":\"gradin " GRADIN_VERSION "\"}");
    print(g, ",\"buffers\":[{\"byteLength\":%zu}]", n_byte);
    print(g,
          ",\"bufferViews\":[{\"buffer\":0,\"byteLength\":%zu,\"byteStride\":12,\"target\":34962}]",
          n_byte);
    put_accessors(g, s);
    put_materials(g, s);
    say(g, ",\"meshes\":[");
    number_meshes(g, s, mesh);
    say(g, "]");
    put_nodes(g, s, mesh, extras);
    while (g->size % 4 != 0) say(g, " ");
}

static unsigned char *put_word(unsigned char *at, uint32_t value) {
    for (int i = 0; i < 4; i++) *at++ = (unsigned char)(value >> (8 * i) & 0xFFU);
    return at;
}

static unsigned char *put_float(unsigned char *at, double value) {
    float narrow = (float)value;
    uint32_t bits;
    memcpy(&bits, &narrow, sizeof bits);
    return put_word(at, bits);
}

static void fill(unsigned char *at, size_t size, const growing *json, const glb_scene *s) {
    at = put_word(at, 0x46546C67U); /* "glTF" */
    at = put_word(at, 2);
    at = put_word(at, (uint32_t)size);
    at = put_word(at, (uint32_t)json->size);
    at = put_word(at, 0x4E4F534AU); /* "JSON" */
    memcpy(at, json->bytes, json->size);
    at += json->size;
    at = put_word(at, (uint32_t)((size_t)s->all.n * CORNER_BYTES));
    at = put_word(at, 0x004E4942U); /* "BIN" */
    for (int i = 0; i < s->all.n; i++) {
        gradin_vec3 v = turned_up(s->all.vertex[i]);
        at = put_float(put_float(put_float(at, v.x), v.y), v.z);
    }
}

gradin_status glb_encode(gradin_arena *arena, const glb_scene *s, const char *extras,
                         unsigned char **bytes, size_t *size, gradin_error *error) {
    growing json = {.arena = s->arena};
    if (!s->failed && !s->all.failed) put_json(&json, s, extras);
    bool is_good = !s->failed && !s->all.failed && !json.failed;
    size_t all = HEADER + 2 * CHUNK + json.size + (size_t)s->all.n * CORNER_BYTES;
    if (is_good && all > UINT32_MAX)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "the scene takes more than the 4 GiB that a GLB file may have");
    *bytes = is_good ? gradin_arena_alloc(arena, all, 1) : NULL;
    if (!*bytes) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a scene");
    fill(*bytes, all, &json, s);
    *size = all;
    return GRADIN_OK;
}
