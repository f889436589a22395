/* Reduces a drawing to the colours of a palette: counts stretches of one colour along the rows,
 * keeps each colour that covers a patch somewhere, and covers the rest, the commonest
 * first, by balls in RGB. The radius is in steps of 255; common practice, no source. */
#include "render/draw/palette.h"

#include <string.h>

enum {
    SLOT_BITS = 15, /* at first; half as many colours */
    MOST_BITS = 17, /* one bit more and a colour fits no stretch */
    N_RECENT = 1 << 9,
    NONE = -1,
    LONGEST = UINT16_MAX,
    PATCH_HITS = 2, /* stretches that lie below their own colour: three rows */
    NARROWEST_SQ = 400,
    WIDEST_SQ = 1600,
    FARTHEST = 63,  /* of a channel; its square is beyond the widest ball */
    SHARE_MOVED = 8 /* one pixel in so many may change */
};

typedef struct count {
    uint32_t ink, n;
    int hits, entry; /* of the palette */
} count;

/* A colour seen before is mostly one of the last few: these are asked first. */
typedef struct recent {
    uint32_t ink;
    int colour;
} recent;

typedef struct counter {
    const canvas *page;
    gradin_arena *scratch;
    int slot_bits;
    count *colour;           /* [most_colours()], in the order of their first pixel */
    uint16_t *slot;          /* [1 << slot_bits], 1 + a colour; 0 is free */
    recent *recent;          /* [N_RECENT] */
    colour_stretch *stretch; /* [n_stretch] */
    int n_stretch, capacity, most;
    int n_colour;
    bool is_out_of_memory;
} counter;

static int most_colours(const counter *c) {
    return (1 << (c->slot_bits - 1)) - 2;
}

/* Of a colour, or the free one where it belongs. */
static uint16_t *slot_of(const counter *c, uint32_t ink) {
    uint32_t last = (1u << c->slot_bits) - 1, at = ink * 2654435761u >> (32 - c->slot_bits);
    while (c->slot[at] > 0 && c->colour[c->slot[at] - 1].ink != ink) at = (at + 1) & last;
    return &c->slot[at];
}

static bool make_slots(counter *c, int bits) {
    const count *former = c->colour;
    c->slot_bits = bits;
    c->colour = gradin_arena_alloc(c->scratch, (size_t)most_colours(c), sizeof *c->colour);
    c->slot = gradin_arena_alloc(c->scratch, (size_t)1 << bits, sizeof *c->slot);
    if (!c->colour || !c->slot) return false;
    if (c->n_colour > 0) memcpy(c->colour, former, (size_t)c->n_colour * sizeof *former);
    for (int i = 0; i < c->n_colour; i++) *slot_of(c, c->colour[i].ink) = (uint16_t)(i + 1);
    return true;
}

/* NONE when there is no room for another. */
static int look_up(counter *c, uint32_t ink) {
    uint16_t *slot = slot_of(c, ink);
    if (*slot > 0) return *slot - 1;
    if (c->n_colour == most_colours(c)) {
        if (c->slot_bits == MOST_BITS) return NONE;
        c->is_out_of_memory = !make_slots(c, c->slot_bits + 1);
        if (c->is_out_of_memory) return NONE;
        slot = slot_of(c, ink);
    }
    c->colour[c->n_colour].ink = ink;
    *slot = (uint16_t)(c->n_colour + 1);
    return c->n_colour++;
}

static int colour_of(counter *c, uint32_t ink) {
    recent *r = &c->recent[ink * 2654435761u >> 23];
    if (r->ink != ink) *r = (recent){ink, look_up(c, ink)};
    return r->colour;
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

static bool note(counter *c, int hue, int length) {
    if (hue == NONE || c->n_stretch == c->most) return false;
    if (c->n_stretch == c->capacity) {
        c->is_out_of_memory = gradin_arena_grow(c->scratch, (void **)&c->stretch, c->n_stretch,
                                                &c->capacity, sizeof *c->stretch) != GRADIN_OK;
        if (c->is_out_of_memory) return false;
    }
    c->stretch[c->n_stretch++] = (colour_stretch){(uint16_t)hue, (uint16_t)length};
    return true;
}

static bool count_row(counter *c, const uint32_t *line, const uint32_t *above) {
    int width = c->page->width_px;
    for (int x = 0, length; x < width; x += length) {
        length = x + 1 < width && line[x + 1] == line[x] ? stretch_of(line, x, width) : 1;
        int hue = colour_of(c, line[x]);
        if (!note(c, hue, length)) return false;
        count *to = &c->colour[hue];
        to->n += (uint32_t)length;
        to->hits += length > 1 && above && above[x + length - 2] == line[x] &&
                    above[x + length - 1] == line[x];
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

/* Patches first, then the commoner, then the darker, in one number. */
typedef struct rank {
    uint64_t key;
    count *of;
} rank;

static rank rank_of(count *c) {
    uint64_t first = c->hits >= PATCH_HITS ? 0 : 1;
    return (rank){first << 56 | (uint64_t)(UINT32_MAX - c->n) << 24 | (c->ink & 0xFFFFFF), c};
}

enum { DIGIT_BITS = 10, N_DIGIT = 1 << DIGIT_BITS, KEY_BITS = 57 };

/* Into `to`, by one digit of the key; equal ones stay as they stand. */
static void sort_by_digit(const rank *from, rank *to, int n, int shift) {
    int place[N_DIGIT + 1] = {0};
    for (int i = 0; i < n; i++) place[(from[i].key >> shift & (N_DIGIT - 1)) + 1]++;
    for (int d = 0; d < N_DIGIT; d++) place[d + 1] += place[d];
    for (int i = 0; i < n; i++) to[place[from[i].key >> shift & (N_DIGIT - 1)]++] = from[i];
}

/* Six passes, an even number: the result is where it began. */
static void sort_ranks(rank *by_rank, rank *spare, int n) {
    for (int shift = 0; shift < KEY_BITS; shift += 2 * DIGIT_BITS) {
        sort_by_digit(by_rank, spare, n, shift);
        sort_by_digit(spare, by_rank, n, shift + DIGIT_BITS);
    }
}

/* Channels apart and short, so that the search for the nearest runs over many side by side. */
typedef struct chosen {
    int16_t red[PALETTE_SIZE], green[PALETTE_SIZE], blue[PALETTE_SIZE];
    int n;
} chosen;

static int16_t apart(int16_t a, int16_t b) {
    int16_t d = (int16_t)(a > b ? a - b : b - a);
    return d < FARTHEST ? d : FARTHEST;
}

/* True up to the widest ball; beyond it only more than that. */
static int nearest(const chosen *of, uint32_t ink, int *distance_sq) {
    int16_t red = (int16_t)(ink >> 16 & 255), green = (int16_t)(ink >> 8 & 255);
    int16_t blue = (int16_t)(ink & 255), away[PALETTE_SIZE], best = INT16_MAX;
    for (int k = 0; k < PALETTE_SIZE; k++) {
        int16_t r = apart(of->red[k], red), g = apart(of->green[k], green);
        int16_t b = apart(of->blue[k], blue);
        away[k] = (int16_t)(r * r + g * g + b * b);
        best = away[k] < best ? away[k] : best;
    }
    int at = 0;
    while (away[at] != best) at++;
    *distance_sq = best;
    return at;
}

static int add(chosen *to, uint32_t ink) {
    to->red[to->n] = (int16_t)(ink >> 16 & 255);
    to->green[to->n] = (int16_t)(ink >> 8 & 255);
    to->blue[to->n] = (int16_t)(ink & 255);
    return to->n++;
}

/* What is not chosen yet lies far from every colour. */
static void choose_none(chosen *to) {
    to->n = 0;
    for (int k = 0; k < PALETTE_SIZE; k++) to->red[k] = to->green[k] = to->blue[k] = -FARTHEST;
}

/* Gives each colour its entry; false when there are too many. */
static bool cover(const rank *by_rank, int n, int radius_sq, chosen *to, uint64_t *n_moved) {
    *n_moved = 0;
    choose_none(to);
    for (int i = 0; i < n; i++) {
        count *c = by_rank[i].of;
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

/* Most stretches are short; a row has room for what is written beyond the end of one. */
void palette_row(const palette *p, int width_px, size_t *at, unsigned char *row) {
    for (int x = 0; x < width_px; (*at)++) {
        colour_stretch s = p->stretch[*at];
        uint64_t eight = p->entry[s.colour] * UINT64_C(0x0101010101010101);
        memcpy(row + x, &eight, sizeof eight);
        if (s.length > sizeof eight) memset(row + x, p->entry[s.colour], s.length);
        x += s.length;
    }
}

static gradin_status reduce(gradin_arena *scratch, const counter *c, palette *out) {
    chosen *to = gradin_arena_alloc(scratch, 1, sizeof *to);
    rank *by_rank = gradin_arena_alloc(scratch, (size_t)c->n_colour, 2 * sizeof *by_rank);
    out->entry = gradin_arena_alloc(scratch, (size_t)c->n_colour, 1);
    if (!to || !by_rank || !out->entry) return GRADIN_NO_MEMORY;
    for (int i = 0; i < c->n_colour; i++) by_rank[i] = rank_of(&c->colour[i]);
    sort_ranks(by_rank, by_rank + c->n_colour, c->n_colour);
    uint64_t n_moved = 0;
    int radius_sq = NARROWEST_SQ;
    while (!cover(by_rank, c->n_colour, radius_sq, to, &n_moved))
        if ((radius_sq *= 2) > WIDEST_SQ) return GRADIN_OK;
    size_t n_pixel = (size_t)c->page->width_px * (size_t)c->page->height_px;
    if (n_moved * SHARE_MOVED > n_pixel) return GRADIN_OK;
    for (int i = 0; i < c->n_colour; i++) out->entry[i] = (unsigned char)c->colour[i].entry;
    for (int k = 0; k < to->n; k++)
        out->ink[k] =
            (uint32_t)to->red[k] << 16 | (uint32_t)to->green[k] << 8 | (uint32_t)to->blue[k];
    out->n = to->n;
    out->stretch = c->stretch;
    return GRADIN_OK;
}

gradin_status palette_of(gradin_arena *scratch, const canvas *page, palette *out) {
    counter c = {.page = page, .scratch = scratch};
    int n_pixel = page->width_px * page->height_px;
    c.most = n_pixel / 4 + 1;
    c.capacity = n_pixel / 16 + 1;
    out->n = 0;
    c.recent = gradin_arena_alloc(scratch, N_RECENT, sizeof *c.recent);
    c.stretch = gradin_arena_alloc(scratch, (size_t)c.capacity, sizeof *c.stretch);
    if (!make_slots(&c, SLOT_BITS) || !c.recent || !c.stretch) return GRADIN_NO_MEMORY;
    if (count_all(&c)) return reduce(scratch, &c, out);
    return c.is_out_of_memory ? GRADIN_NO_MEMORY : GRADIN_OK;
}
