/* Reduces a drawing to the colours of a palette: counts stretches of one colour along the rows,
 * keeps each colour that covers a patch somewhere, and covers the rest, the commonest
 * first, by balls in RGB. The radius is in steps of 255; common practice, no source. */
#include "render/draw/palette.h"

#include <stdlib.h>
#include <string.h>

enum {
    N_SLOT = 1 << 15,
    MOST_COLOURS = 1 << 14,
    LONGEST = UINT16_MAX,
    PATCH_HITS = 2, /* stretches that lie below their own colour: three rows */
    NARROWEST_SQ = 400,
    WIDEST_SQ = 1600,
    SHARE_MOVED = 8 /* one pixel in so many may change */
};

typedef struct count {
    uint32_t ink, n;
    int hits, entry; /* of the palette */
} count;

typedef struct counter {
    const canvas *page;
    count *slot;             /* [N_SLOT] */
    colour_stretch *stretch; /* [most] */
    size_t n_stretch, most;
    int n_colour;
} counter;

static int slot_of(counter *c, uint32_t ink) {
    uint32_t at = ink * 2654435761u >> 17;
    while (c->slot[at].n > 0 && c->slot[at].ink != ink) at = (at + 1) % N_SLOT;
    return (int)at;
}

/* How many pixels from `x` on have its colour. */
static int stretch_of(const uint32_t *line, int x, int width) {
    int end = x + 1;
    const uint32_t ink = line[x];
    while (end + 8 <= width) {
        uint32_t other = 0;
        for (int k = 0; k < 8; k++) other |= line[end + k] ^ ink;
        if (other != 0) break;
        end += 8;
    }
    while (end < width && line[end] == ink) end++;
    return (end - x < LONGEST ? end : x + LONGEST) - x;
}

static bool count_row(counter *c, const uint32_t *line, const uint32_t *above) {
    int width = c->page->width_px;
    for (int x = 0, length; x < width; x += length) {
        length = stretch_of(line, x, width);
        int at = slot_of(c, line[x]);
        count *to = &c->slot[at];
        if (to->n == 0 && ++c->n_colour > MOST_COLOURS) return false;
        if (c->n_stretch == c->most) return false;
        to->ink = line[x];
        to->n += (uint32_t)length;
        to->hits += length > 1 && above && above[x + length - 2] == line[x] &&
                    above[x + length - 1] == line[x];
        c->stretch[c->n_stretch++] = (colour_stretch){(uint16_t)at, (uint16_t)length};
    }
    return true;
}

/* False where there is more than a drawing has. */
static bool count_all(counter *c) {
    const uint32_t *above = NULL;
    for (int y = 0; y < c->page->height_px; y++) {
        const unsigned char *bytes = c->page->pixels + (size_t)y * (size_t)c->page->stride;
        const uint32_t *line = (const uint32_t *)(const void *)bytes;
        if (!count_row(c, line, above)) return false;
        above = line;
    }
    return true;
}

static int commoner(const void *a, const void *b) {
    const count *x = *(count *const *)a, *y = *(count *const *)b;
    bool is_patch_x = x->hits >= PATCH_HITS, is_patch_y = y->hits >= PATCH_HITS;
    if (is_patch_x != is_patch_y) return is_patch_x ? -1 : 1;
    if (x->n != y->n) return x->n > y->n ? -1 : 1;
    return x->ink < y->ink ? -1 : x->ink > y->ink;
}

/* Channels apart, so that the search for the nearest runs over them side by side. */
typedef struct chosen {
    int red[PALETTE_SIZE], green[PALETTE_SIZE], blue[PALETTE_SIZE], n;
} chosen;

static int nearest(const chosen *of, uint32_t ink, int *distance_sq) {
    int red = (int)(ink >> 16 & 255), green = (int)(ink >> 8 & 255), blue = (int)(ink & 255);
    int best = INT32_MAX;
    for (int k = 0; k < of->n; k++) {
        int r = of->red[k] - red, g = of->green[k] - green, b = of->blue[k] - blue;
        int key = (r * r + g * g + b * b) * PALETTE_SIZE + k;
        best = key < best ? key : best;
    }
    *distance_sq = best / PALETTE_SIZE;
    return best % PALETTE_SIZE;
}

static int add(chosen *to, uint32_t ink) {
    to->red[to->n] = (int)(ink >> 16 & 255);
    to->green[to->n] = (int)(ink >> 8 & 255);
    to->blue[to->n] = (int)(ink & 255);
    return to->n++;
}

/* Gives each colour its entry; false when there are too many. */
static bool cover(count *const *by_rank, int n, int radius_sq, chosen *to, uint64_t *n_moved) {
    *n_moved = 0;
    to->n = 0;
    for (int i = 0; i < n; i++) {
        count *c = by_rank[i];
        int away = INT32_MAX;
        bool is_patch = c->hits >= PATCH_HITS;
        if (!is_patch && to->n > 0) c->entry = nearest(to, c->ink, &away);
        if (is_patch || away > radius_sq) {
            if (to->n == PALETTE_SIZE) return false;
            c->entry = add(to, c->ink);
        } else if (away > 0)
            *n_moved += c->n;
    }
    return true;
}

void palette_row(const palette *p, int width_px, size_t *at, unsigned char *row) {
    for (int x = 0; x < width_px; (*at)++) {
        colour_stretch s = p->stretch[*at];
        memset(row + x, p->entry[s.slot], s.length);
        x += s.length;
    }
}

static gradin_status reduce(gradin_arena *scratch, const counter *c, palette *out) {
    chosen *to = gradin_arena_alloc(scratch, 1, sizeof *to);
    count **by_rank = gradin_arena_alloc(scratch, (size_t)c->n_colour, sizeof(count *));
    if (!to || !by_rank) return GRADIN_NO_MEMORY;
    int n = 0;
    for (int i = 0; i < N_SLOT; i++)
        if (c->slot[i].n > 0) by_rank[n++] = &c->slot[i];
    qsort(by_rank, (size_t)n, sizeof(count *), commoner);
    uint64_t n_moved = 0;
    int radius_sq = NARROWEST_SQ;
    while (!cover(by_rank, n, radius_sq, to, &n_moved))
        if ((radius_sq *= 2) > WIDEST_SQ) return GRADIN_OK;
    size_t n_pixel = (size_t)c->page->width_px * (size_t)c->page->height_px;
    if (n_moved * SHARE_MOVED > n_pixel) return GRADIN_OK;
    out->entry = gradin_arena_alloc(scratch, N_SLOT, 1);
    if (!out->entry) return GRADIN_NO_MEMORY;
    for (int i = 0; i < N_SLOT; i++) out->entry[i] = (unsigned char)c->slot[i].entry;
    for (int k = 0; k < to->n; k++)
        out->ink[k] =
            (uint32_t)to->red[k] << 16 | (uint32_t)to->green[k] << 8 | (uint32_t)to->blue[k];
    out->n = to->n;
    out->stretch = c->stretch;
    return GRADIN_OK;
}

gradin_status palette_of(gradin_arena *scratch, const canvas *page, palette *out) {
    counter c = {.page = page};
    c.most = (size_t)page->width_px * (size_t)page->height_px / 4 + 1;
    out->n = 0;
    c.slot = gradin_arena_alloc(scratch, N_SLOT, sizeof *c.slot);
    c.stretch = gradin_arena_alloc(scratch, c.most, sizeof *c.stretch);
    if (!c.slot || !c.stretch) return GRADIN_NO_MEMORY;
    return count_all(&c) ? reduce(scratch, &c, out) : GRADIN_OK;
}
