/* Cue sheets: what each gang does and when, with a box to tick, on upright A4, in black on white.
 * A cue is never parted between two sheets. */
#include "render/charts/cues.h"
#include "render/draw/pages.h"

#include <stdio.h>
#include <string.h>

#define EDGE 110.0
#define RIGHT (PAGE_WIDTH - EDGE)
#define BOX_AT EDGE
#define NUMBER_AT (EDGE + 60.0)
#define TIME_AT (EDGE + 130.0)
#define WHAT_AT (EDGE + 400.0)
#define PEOPLE_AT (RIGHT - 330.0)
#define TOP 390.0
#define BOTTOM (SHEET_HEIGHT - 330.0)
#define GAP 14.0

static const text_style plain = {.size = 9.5 * SHEET_POINT};
static const text_style strong = {.size = 10.5 * SHEET_POINT, .is_bold = true};
static const text_style small = {.size = 8.0 * SHEET_POINT};

static const char *const caution[] = {
    "Nobody stands under or on moving machinery; the area is cleared and watched before each move.",
    "Trained operators move the machines by the maker's procedure; that procedure always wins.",
    "A plan of times and orders: it controls nothing and checks no load and no rigging.",
    "Open edges need their guards before anybody else enters; the local code decides which."};

static int64_t minute_of(const gradin_changeover *c, int at_s) {
    return ((c->has_start ? c->start_s % 86400 : 0) + at_s + 59) / 60;
}

static double higher(double a, double b) {
    return a > b ? a : b;
}

static void clock_text(const gradin_changeover *c, int at_s, char text[32]) {
    int64_t minutes = minute_of(c, at_s);
    if (c->has_start) minutes %= 1440;
    snprintf(text, 32, "%d:%02d", (int)(minutes / 60), (int)(minutes % 60));
}

static bool works(const char *people, int gang) {
    for (const char *at = people ? people : ""; *at; at++)
        if (*at == 'A' + gang) return true;
    return false;
}

static bool add(cue_book *book, gradin_arena *arena, int *capacity, int first, cue added) {
    if (gradin_arena_grow(arena, (void **)&book->cue, book->n_cue, capacity, sizeof *book->cue) !=
        GRADIN_OK)
        return false;
    int at = book->n_cue++;
    for (; at > first && book->cue[at - 1].start_s > added.start_s; at--)
        book->cue[at] = book->cue[at - 1];
    book->cue[at] = added;
    return true;
}

static bool add_move(cue_book *book, gradin_arena *arena, int *capacity, int first, int gang,
                     int i) {
    const gradin_move *m = &book->c->move[i];
    bool is_own = gang < 0 ? m->crew == 0 : works(m->gang, gang);
    if (is_own && !add(book, arena, capacity, first, (cue){i, -1, m->start_s, m->end_s}))
        return false;
    for (int k = 0; k < m->n_trip && m->trip_people && gang >= 0; k++) {
        int at_s = m->trip_start_s[k];
        if (works(m->trip_people[k], gang) &&
            !add(book, arena, capacity, first, (cue){i, k, at_s, at_s + book->c->trip_s}))
            return false;
    }
    return true;
}

/* The cues of a gang; none: it has no sheet. */
static bool add_gang(cue_book *book, gradin_arena *arena, int *capacity, int gang) {
    int first = book->n_cue;
    for (int i = 0; i < book->c->n_move; i++)
        if (!add_move(book, arena, capacity, first, gang, i)) return false;
    if (book->n_cue == first || gang < 0) return true;
    for (int i = 0; i < book->c->n_stop; i++) {
        const gradin_stop *s = &book->c->stop[i];
        if (!add(book, arena, capacity, first, (cue){-1, i, s->from_s, s->to_s})) return false;
    }
    return true;
}

static double draw_box(canvas *page, double y, bool is_drawn) {
    if (!is_drawn) return y;
    cairo_rectangle(page->cr, BOX_AT, y - 26.0, 34.0, 34.0);
    canvas_stroke(page, (colour){0, 0, 0}, 3.0);
    return y;
}

static const char *people_of(const cue_book *book, const cue *q) {
    const gradin_move *m = &book->c->move[q->move];
    return q->trip >= 0 ? m->trip_people[q->trip] : m->people;
}

static double put_people(const cue_book *book, canvas *page, const cue *q, double y,
                         bool is_drawn) {
    char text[TEXT_CHARS];
    const gradin_move *m = &book->c->move[q->move];
    const char *people = people_of(book, q);
    if (!people || !people[0]) return y;
    if (q->trip >= 0)
        snprintf(text, sizeof text, "%.480s", people);
    else
        snprintf(text, sizeof text, "%d: %.480s", m->crew, people);
    return cues_column(page, plain, PEOPLE_AT, y, RIGHT - PEOPLE_AT, text, is_drawn);
}

/* When the store lift goes for it. */
static double put_trips(const cue_book *book, canvas *page, const gradin_move *m, double y,
                        bool is_drawn) {
    char text[TEXT_CHARS] = "store lift at", at[32];
    size_t n = strlen(text);
    if (m->n_trip == 0) return y;
    for (int i = 0; i < m->n_trip && n + 40 < sizeof text; i++) {
        clock_text(book->c, m->trip_start_s[i], at);
        n += (size_t)snprintf(text + n, sizeof text - n, "%s %s", i > 0 ? "," : "", at);
    }
    return cues_column(page, small, WHAT_AT, y, PEOPLE_AT - WHAT_AT - 30.0, text, is_drawn);
}

static double put_reason(canvas *page, const gradin_move *m, double y, bool is_drawn) {
    char text[TEXT_CHARS];
    if (m->waits_for < 0) return y;
    snprintf(text, sizeof text, "%s move %d%s%.400s",
             m->cause == GRADIN_STARTS_APART ? "not beside" : "after", m->waits_for + 1,
             m->rule ? ": " : "", m->rule ? m->rule : "");
    return cues_column(page, small, WHAT_AT, y, PEOPLE_AT - WHAT_AT - 30.0, text, is_drawn);
}

/* NULL: none of its own. */
static const char *caution_of(const gradin_move *m) {
    if (m->is_rail) return "CAUTION: an open edge; nobody else near it";
    if (m->kind != GRADIN_MOVE_MACHINE) return NULL;
    return m->are_people_near ? "CAUTION: nobody under or on it"
                              : "CAUTION: nobody under or on it, nobody within a metre";
}

static double put_what(const cue_book *book, canvas *page, const cue *q, double y, bool is_drawn) {
    char text[TEXT_CHARS];
    const gradin_move *m = &book->c->move[q->move];
    double width = PEOPLE_AT - WHAT_AT - 30.0;
    if (q->trip >= 0) {
        snprintf(text, sizeof text, "store lift for move %d, %.400s", q->move + 1, m->name);
        return cues_column(page, strong, WHAT_AT, y, width, text, is_drawn);
    }
    y = cues_column(page, strong, WHAT_AT, y, width, m->name, is_drawn);
    y = cues_column(page, plain, WHAT_AT, y, width, m->task, is_drawn);
    y = put_trips(book, page, m, y, is_drawn);
    y = put_reason(page, m, y, is_drawn);
    const char *caution_text = caution_of(m);
    return caution_text ? cues_column(page, small, WHAT_AT, y, width, caution_text, is_drawn) : y;
}

/* Under the time of a later day: which. */
static double put_time(const cue_book *book, canvas *page, const cue *q, double y, bool is_drawn) {
    char from[32], to[32], text[80];
    double width = WHAT_AT - TIME_AT - 20.0;
    int days = book->c->has_start ? (int)(minute_of(book->c, q->start_s) / 1440) : 0;
    clock_text(book->c, q->start_s, from);
    clock_text(book->c, q->end_s, to);
    snprintf(text, sizeof text, "%s - %s", from, to);
    y = cues_column(page, strong, TIME_AT, y, width, text, is_drawn);
    if (days == 0) return y;
    snprintf(text, sizeof text, "day %d", days + 1);
    return cues_column(page, small, TIME_AT, y, width, text, is_drawn);
}

static double put_stop(const cue_book *book, canvas *page, const cue *q, double y, bool is_drawn) {
    char text[TEXT_CHARS];
    snprintf(text, sizeof text, "%.400s: nobody works", book->c->stop[q->trip].name);
    double end = put_time(book, page, q, y, is_drawn);
    return higher(end, cues_column(page, strong, WHAT_AT, y, RIGHT - WHAT_AT, text, is_drawn));
}

/* From its top to the top of the next one. */
static double put_cue(const cue_book *book, canvas *page, const cue *q, double top, bool is_drawn) {
    char number[16];
    double y = top + GAP + strong.size;
    if (is_drawn)
        canvas_line(page, (gradin_vec2){EDGE, top}, (gradin_vec2){RIGHT, top}, COLOUR_QUIET, 1.5);
    if (q->move < 0) return put_stop(book, page, q, y, is_drawn) - strong.size + 2.0 * GAP;
    snprintf(number, sizeof number, "%d", q->move + 1);
    draw_box(page, y, is_drawn);
    cues_column(page, plain, NUMBER_AT, y, TIME_AT - NUMBER_AT - 6.0, number, is_drawn);
    double end = put_time(book, page, q, y, is_drawn);
    end = higher(end, put_what(book, page, q, y, is_drawn));
    end = higher(end, put_people(book, page, q, y, is_drawn));
    return end - strong.size + 2.0 * GAP;
}

static bool add_sheets(cue_book *book, gradin_arena *arena, int *capacity, canvas *page, int gang,
                       int first) {
    int begin = book->n_sheet;
    double y = TOP;
    for (int i = first; i < book->n_cue; i++) {
        double height = put_cue(book, page, &book->cue[i], 0.0, false);
        if (i == first || y + height > BOTTOM) {
            if (gradin_arena_grow(arena, (void **)&book->sheet, book->n_sheet, capacity,
                                  sizeof *book->sheet) != GRADIN_OK)
                return false;
            book->sheet[book->n_sheet] = (cue_sheet){gang, i, i, book->n_sheet - begin + 1, 0};
            book->n_sheet++;
            y = TOP;
        }
        book->sheet[book->n_sheet - 1].last = i + 1;
        y += height;
    }
    for (int i = begin; i < book->n_sheet; i++) book->sheet[i].n_of_gang = book->n_sheet - begin;
    return true;
}

bool cues_bind(cue_book *book, gradin_arena *arena, const gradin_changeover *c, canvas *page) {
    int n_room = 0, n_sheet_room = 0;
    *book = (cue_book){.c = c};
    for (int k = 0; k <= c->n_gang; k++) {
        int first = book->n_cue, gang = k < c->n_gang ? k : -1;
        if (!add_gang(book, arena, &n_room, gang) ||
            !add_sheets(book, arena, &n_sheet_room, page, gang, first))
            return false;
    }
    return true;
}

static void draw_head(const cue_book *book, const cue_sheet *s, canvas *page) {
    char text[TEXT_CHARS];
    const gradin_changeover *c = book->c;
    text_style title = {.size = 20.0 * SHEET_POINT, .is_bold = true};
    if (s->gang >= 0)
        snprintf(text, sizeof text, "Gang %c", 'A' + s->gang);
    else
        snprintf(text, sizeof text, "Needs no people");
    canvas_text(page, title, EDGE, 170.0, text);
    snprintf(text, sizeof text, "page %d of %d", s->number, s->n_of_gang);
    canvas_text(page, (text_style){.size = 12.0 * SHEET_POINT, .align = TEXT_RIGHT}, RIGHT, 170.0,
                text);
    snprintf(text, sizeof text, "Changeover from %.150s to %.150s, %.150s", c->from->layout_name,
             c->to->layout_name, c->from->venue_name);
    canvas_text_within(page, plain, EDGE, 240.0, RIGHT - EDGE, small.size, text);
    canvas_text_within(
        page, small, EDGE, 282.0, RIGHT - EDGE, small.size,
        c->has_start
            ? "Times of the day, local; day 2 is the day after the start. Tick what is done."
            : "Times are hours and minutes from the start. Tick what is done.");
    text_style head = {.size = small.size, .is_bold = true};
    canvas_text(page, head, NUMBER_AT, TOP - 18.0, "move");
    canvas_text(page, head, TIME_AT + 20.0, TOP - 18.0, "from - to");
    canvas_text(page, head, WHAT_AT, TOP - 18.0, "what and how");
    canvas_text(page, head, PEOPLE_AT, TOP - 18.0, "people");
}

static void draw_foot(const cue_book *book, canvas *page) {
    char text[TEXT_CHARS];
    double y = BOTTOM + 70.0;
    canvas_line(page, (gradin_vec2){EDGE, BOTTOM + 24.0}, (gradin_vec2){RIGHT, BOTTOM + 24.0},
                (colour){0, 0, 0}, 4.0);
    for (size_t i = 0; i < sizeof caution / sizeof *caution; i++)
        y = cues_column(page, plain, EDGE, y, RIGHT - EDGE, caution[i], true);
    snprintf(text, sizeof text, "gradin " GRADIN_VERSION " \xC2\xB7 input digests %.32s, %.32s",
             book->c->from->digest, book->c->to->digest);
    canvas_text_within(page, small, EDGE, y + 14.0, RIGHT - EDGE, 6.0 * SHEET_POINT, text);
}

void cues_draw(const cue_book *book, const cue_sheet *sheet, canvas *page) {
    double y = TOP;
    draw_head(book, sheet, page);
    for (int i = sheet->first; i < sheet->last; i++)
        y = put_cue(book, page, &book->cue[i], y, true);
    canvas_line(page, (gradin_vec2){EDGE, y}, (gradin_vec2){RIGHT, y}, COLOUR_QUIET, 1.5);
    draw_foot(book, page);
}
