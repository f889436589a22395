/* Cue sheets drawn on pixels: nothing sticks out, whatever names are like; every cue stands on one
 * sheet of each gang that works at it. */
#include "render/charts/cues.h"
#include "render/draw/pages.h"

#include <criterion/criterion.h>

enum { N_MOVE = 40 };

static const char long_word[] =
    "Donaudampfschifffahrtselektrizitaetenhauptbetriebswerkbauunterbeamtengesellschaftssaal";
static const char long_name[] =
    "The upper balcony of the northern extension beside the old paint shop rows 1-14 seats 1-3 + "
    "5-9 + 12-14 + 17 + 19-23, row 15 seats 2-6 + 8-9 + 11-14 + 16-20 + 22-24 + 26-28 + 30-31";

static gradin_arena *arena;
static gradin_model from, to;
static gradin_move move[N_MOVE];
static gradin_changeover c;
static const gradin_stop stop[] = {{3000, 3600, long_name, true, false},
                                   {9000, 9600, "rest", true, false}};

static void open(void) {
    arena = gradin_arena_create();
    from = (gradin_model){.layout_name = long_name, .venue_name = long_word};
    to = (gradin_model){.layout_name = long_word, .venue_name = long_word};
    for (int i = 0; i < N_MOVE; i++)
        move[i] = (gradin_move){.name = i % 3 == 0   ? long_word
                                        : i % 3 == 1 ? long_name
                                                     : "W1 hoist",
                                .task = i % 2 ? long_name : "0.00 m -> 1.60 m",
                                .kind = i % 3 == 2 ? GRADIN_MOVE_MACHINE : GRADIN_MOVE_STRIKE,
                                .start_s = 600 * i,
                                .end_s = 600 * i + 600,
                                .crew = i % 5 ? 4 : 0,
                                .gang = i % 5 == 0   ? ""
                                        : i % 5 == 1 ? "A, B"
                                        : i % 5 == 2 ? "B"
                                                     : "A",
                                .people = i % 5 ? "A1-A4, B1-B4, A1-A4, B1-B4, A1-A4, B1-B4" : "",
                                .waits_for = i - 1,
                                .rule = i % 4 ? NULL : long_name};
    c = (gradin_changeover){.from = &from,
                            .to = &to,
                            .move = move,
                            .n_move = N_MOVE,
                            .n_gang = 2,
                            .stop = stop,
                            .n_stop = 2,
                            .has_start = true,
                            .start_s = 79200};
}

static void close(void) {
    gradin_arena_destroy(arena);
}

TestSuite(cues, .init = open, .fini = close);

/* Darkest pixel of a rectangle in page units. */
static int darkest(const canvas *page, double x0, double x1, double y0, double y1) {
    int least = 255;
    for (int y = (int)(y0 * page->zoom); y < (int)(y1 * page->zoom); y++)
        for (int x = (int)(x0 * page->zoom); x < (int)(x1 * page->zoom); x++) {
            int blue = page->pixels[y * page->stride + 4 * x];
            if (blue < least) least = blue;
        }
    return least;
}

/* Nothing stands on the line between two cues: the strip above each is white. */
static void expect_clear_lines(const canvas *page, int sheet) {
    double gap_x = PAGE_WIDTH - 460.0;
    for (double y = 420.0; y < SHEET_HEIGHT - 330.0; y += 1.0 / page->zoom) {
        bool is_line = darkest(page, PAGE_WIDTH - 130.0, PAGE_WIDTH - 112.0, y, y + 2.0) < 200 &&
                       darkest(page, gap_x, gap_x + 8.0, y, y + 2.0) < 200 &&
                       darkest(page, 150.0, 168.0, y, y + 2.0) < 200;
        if (!is_line) continue;
        cr_expect_eq(darkest(page, 0.0, PAGE_WIDTH, y - 9.0, y - 4.0), 255,
                     "sheet %d: the line at %.0f", sheet, y);
        y += 20.0;
    }
}

Test(cues, nothing_sticks_out_of_any_sheet) {
    canvas page;
    cue_book book;
    cr_assert_eq(canvas_open(&page, arena, SHEET_HEIGHT, 0.6, NULL), GRADIN_OK);
    cr_assert(cues_bind(&book, arena, &c, &page));
    cr_assert_gt(book.n_sheet, 3);
    canvas_close(&page);
    for (int i = 0; i < book.n_sheet; i++) {
        cr_assert_eq(canvas_open(&page, arena, SHEET_HEIGHT, 0.6, NULL), GRADIN_OK);
        cues_draw(&book, &book.sheet[i], &page);
        cr_assert_eq(canvas_status(&page, NULL), GRADIN_OK);
        cr_expect_eq(darkest(&page, 0.0, 100.0, 0.0, SHEET_HEIGHT), 255, "left of sheet %d", i);
        cr_expect_eq(darkest(&page, PAGE_WIDTH - 100.0, PAGE_WIDTH, 0.0, SHEET_HEIGHT), 255,
                     "right of sheet %d", i);
        cr_expect_eq(darkest(&page, 0.0, PAGE_WIDTH, SHEET_HEIGHT - 60.0, SHEET_HEIGHT), 255);
        /* Between the columns, and between cues and foot. */
        cr_expect_eq(darkest(&page, PAGE_WIDTH - 466.0, PAGE_WIDTH - 446.0, 400.0, 410.0), 255);
        cr_expect_eq(darkest(&page, 0.0, PAGE_WIDTH, SHEET_HEIGHT - 326.0, SHEET_HEIGHT - 310.0),
                     255, "between cues and foot of sheet %d", i);
        cr_expect_lt(darkest(&page, 110.0, 800.0, SHEET_HEIGHT - 290.0, SHEET_HEIGHT - 100.0), 80,
                     "cautions of sheet %d", i);
        expect_clear_lines(&page, i);
        canvas_close(&page);
    }
}

Test(cues, every_cue_is_on_a_sheet_of_its_gangs) {
    canvas page;
    cue_book book;
    cr_assert_eq(canvas_open(&page, arena, SHEET_HEIGHT, 0.2, NULL), GRADIN_OK);
    cr_assert(cues_bind(&book, arena, &c, &page));
    int seen[3][N_MOVE] = {{0}};
    for (int i = 0; i < book.n_sheet; i++) {
        const cue_sheet *s = &book.sheet[i];
        cr_expect_leq(s->number, s->n_of_gang);
        for (int k = s->first; k < s->last; k++)
            if (book.cue[k].move >= 0) seen[s->gang < 0 ? 2 : s->gang][book.cue[k].move]++;
    }
    for (int i = 0; i < N_MOVE; i++) {
        cr_expect_eq(seen[0][i], i % 5 == 1 || i % 5 > 2, "gang A, move %d", i);
        cr_expect_eq(seen[1][i], i % 5 == 1 || i % 5 == 2, "gang B, move %d", i);
        cr_expect_eq(seen[2][i], i % 5 == 0, "nobody, move %d", i);
    }
    canvas_close(&page);
}

/* A word wider than its column is broken inside, and loses no letter: eight per line at least. */
Test(cues, a_word_wider_than_its_column_is_broken) {
    canvas page;
    text_style style = {.size = 30.0};
    cr_assert_eq(canvas_open(&page, arena, 800.0, 1.0, NULL), GRADIN_OK);
    double width = canvas_text_width(&page, style, long_word);
    double lines = cues_column(&page, style, 100.0, 40.0, width / 4.0, long_word, false) - 40.0;
    cr_expect_geq(lines, 4 * 1.3 * 30.0 - 1e-9);
    cr_expect_leq(lines, 6 * 1.3 * 30.0 + 1e-9);
    canvas_close(&page);
}
