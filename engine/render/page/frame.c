/* Head and foot of a page, and the titles of its parts. */
#include "render/page/parts.h"

#include <stdio.h>

static void draw_lines(board *s, const board_head *head) {
    static const double two[] = {70.0, 106.0, 0.0}, three[] = {58.0, 86.0, 112.0};
    const double *y = head->lines[2][0] ? three : two;
    text_style style = {.size = 22.0, .is_bold = true, .align = TEXT_RIGHT, .ink = COLOUR_INK};
    for (int i = 0; i < 3; i++) {
        canvas_text_within(s->page, style, A3_WIDTH - A3_MARGIN, y[i], 0.48 * A3_INNER, 14.0,
                           head->lines[i]);
        style.is_bold = false;
        style.size = 20.0;
    }
}

void board_draw_head(board *s, const board_head *head) {
    text_style style = {.size = 40.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text_within(s->page, style, A3_MARGIN, 74.0, 0.5 * A3_INNER, 24.0, head->title);
    style = (text_style){.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(s->page, style, A3_MARGIN, 108.0, 0.5 * A3_INNER, 14.0, head->about);
    draw_lines(s, head);
    canvas_line(s->page, (gradin_vec2){A3_MARGIN, 126.0},
                (gradin_vec2){A3_WIDTH - A3_MARGIN, 126.0}, COLOUR_FAINT, 1.2);
}

void board_draw_foot(board *s, const char *noise, const char *digests) {
    char text[TEXT_CHARS];
    double y = A3_HEIGHT - (noise[0] ? 96.0 : 72.0);
    canvas_line(s->page, (gradin_vec2){A3_MARGIN, y}, (gradin_vec2){A3_WIDTH - A3_MARGIN, y},
                COLOUR_FAINT, 1.2);
    text_style style = {.size = 17.0, .ink = COLOUR_INK};
    canvas_text_within(s->page, style, A3_MARGIN, y + 24.0, A3_INNER, 13.0,
                       "Predicted from the layout, not measured. Rails, guards, egress, loads and "
                       "moving machinery: the local code and a licensed professional decide. A "
                       "rating never justifies a lower or missing guard.");
    if (noise[0]) canvas_text_within(s->page, style, A3_MARGIN, y + 48.0, A3_INNER, 12.0, noise);
    style = (text_style){.size = 15.0, .ink = COLOUR_QUIET};
    snprintf(text, sizeof text,
             "gradin " GRADIN_VERSION " \xC2\xB7 input digest %s \xC2\xB7 "
             "north is up on plans",
             digests);
    canvas_text_within(s->page, style, A3_MARGIN, A3_HEIGHT - 24.0, A3_INNER, 12.0, text);
}

void board_part_title(board *s, double left, double top, double width, const char *title) {
    text_style style = {.size = 20.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text_within(s->page, style, left, top + 21.0, width, 13.0, title);
}

char *board_percent(double share, char text[16]) {
    char number[12];
    gradin_format_fixed(number, sizeof number, 100.0 * share, 1);
    snprintf(text, 16, "%s %%", number);
    return text;
}

char *board_counted(int n, int all, char text[32]) {
    char share[16];
    snprintf(text, 32, "%d (%s)", n, board_percent(all > 0 ? (double)n / all : 0.0, share));
    return text;
}
