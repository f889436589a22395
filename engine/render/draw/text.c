/* Text on the canvas, bounded and safe against bytes that are no UTF-8. */
#include "render/draw/canvas.h"

#include <stdio.h>
#include <string.h>

/* The code points that stand for nothing (The Unicode Standard, section 23.7): U+FDD0 to U+FDEF and
 * the last two of each plane. Cairo gives up a whole page for one of them. */
static bool is_noncharacter(const unsigned char *s, int length) {
    if (length < 3) return false;
    const unsigned char *last = s + length - 1;
    if (length == 3 && s[0] == 0xEF && s[1] == 0xB7) return *last >= 0x90 && *last <= 0xAF;
    bool ends_plane = last[-1] == 0xBF && *last >= 0xBE;
    return ends_plane && (length == 3 ? s[0] == 0xEF : (s[1] & 0x0F) == 0x0F);
}

/* Length of the UTF-8 sequence at s (RFC 3629), 0 when it is none that can be drawn. */
static int sequence_length(const unsigned char *s) {
    if (s[0] >= 0x20 && s[0] < 0x7F) return 1;
    int length = s[0] >= 0xC2 && s[0] < 0xE0 ? 2 : (s[0] & 0xF0) == 0xE0 ? 3 : 0;
    if (s[0] >= 0xF0 && s[0] < 0xF5) length = 4;
    for (int i = 1; i < length; i++)
        if ((s[i] & 0xC0) != 0x80) return 0;
    if (s[0] == 0xE0 && s[1] < 0xA0) return 0;
    if (s[0] == 0xED && s[1] >= 0xA0) return 0;
    if (s[0] == 0xF0 && s[1] < 0x90) return 0;
    if (s[0] == 0xF4 && s[1] >= 0x90) return 0;
    return is_noncharacter(s, length) ? 0 : length;
}

/* text with every other byte replaced by '?', cut to whole characters. */
static void clean(char out[TEXT_CHARS], const char *text) {
    size_t used = 0;
    const unsigned char *s = (const unsigned char *)(text ? text : "");
    while (*s != '\0') {
        int length = sequence_length(s);
        size_t step = length > 0 ? (size_t)length : 1;
        if (used + step >= TEXT_CHARS) break;
        if (length > 0)
            memcpy(out + used, s, step);
        else
            out[used] = '?';
        used += step;
        s += step;
    }
    out[used] = '\0';
}

static void use_font(canvas *page, text_style style) {
    double condense = style.condense > 0.0 ? style.condense : 1.0;
    cairo_matrix_t matrix;
    cairo_set_font_face(page->cr, style.is_mono   ? page->mono
                                  : style.is_bold ? page->bold
                                                  : page->regular);
    cairo_matrix_init_scale(&matrix, style.size * condense, style.size);
    cairo_set_font_matrix(page->cr, &matrix);
}

static double advance(canvas *page, const char *cleaned) {
    cairo_text_extents_t extents;
    cairo_text_extents(page->cr, cleaned, &extents);
    return extents.x_advance;
}

double canvas_text_width(canvas *page, text_style style, const char *text) {
    char cleaned[TEXT_CHARS];
    clean(cleaned, text);
    use_font(page, style);
    return advance(page, cleaned);
}

/* Upright in the canvas's present axes, starting at x on the baseline 0. */
static void put(canvas *page, text_style style, double x, const char *cleaned) {
    if (page->least_text <= 0.0 || style.size < page->least_text) page->least_text = style.size;
    if (style.halo > 0.0) {
        cairo_move_to(page->cr, x, 0.0);
        cairo_text_path(page->cr, cleaned);
        cairo_set_line_join(page->cr, CAIRO_LINE_JOIN_ROUND);
        canvas_stroke(page, style.halo_ink, style.halo);
        cairo_set_line_join(page->cr, CAIRO_LINE_JOIN_MITER);
    }
    canvas_ink(page, style.ink);
    cairo_move_to(page->cr, x, 0.0);
    cairo_show_text(page->cr, cleaned);
    cairo_new_path(page->cr);
}

void canvas_text(canvas *page, text_style style, double x, double y, const char *text) {
    char cleaned[TEXT_CHARS];
    clean(cleaned, text);
    use_font(page, style);
    double share = style.align == TEXT_LEFT ? 0.0 : style.align == TEXT_CENTRE ? 0.5 : 1.0;
    double left = share > 0.0 ? share * advance(page, cleaned) : 0.0;
    cairo_save(page->cr);
    cairo_translate(page->cr, x, y);
    if (style.turn_rad != 0.0) cairo_rotate(page->cr, style.turn_rad);
    put(page, style, -left, cleaned);
    cairo_restore(page->cr);
}

/* Drops the last character of cleaned[length]; the new length. */
static size_t drop_last(char *cleaned, size_t length) {
    do length--;
    while (length > 0 && ((unsigned char)cleaned[length] & 0xC0) == 0x80);
    cleaned[length] = '\0';
    return length;
}

static void cut(canvas *page, double width, char cleaned[TEXT_CHARS]) {
    static const char ellipsis[] = "\xE2\x80\xA6";
    size_t length = strlen(cleaned);
    double room = width - advance(page, ellipsis);
    while (length > 0 && (length > TEXT_CHARS - sizeof ellipsis || advance(page, cleaned) > room))
        length = drop_last(cleaned, length);
    memcpy(cleaned + length, ellipsis, sizeof ellipsis);
}

void canvas_text_within(canvas *page, text_style style, double x, double y, double width,
                        double least_size, const char *text) {
    char cleaned[TEXT_CHARS];
    clean(cleaned, text);
    use_font(page, style);
    double natural = advance(page, cleaned);
    if (natural > width) {
        style.size = fmax(least_size, style.size * width / natural);
        use_font(page, style);
        if (advance(page, cleaned) > width * 1.0001) cut(page, width, cleaned);
    }
    canvas_text(page, style, x, y, cleaned);
}

size_t canvas_text_break(canvas *page, text_style style, double width, const char *text) {
    char part[TEXT_CHARS];
    size_t best = 0;
    for (size_t at = 1; at <= strlen(text) && at < TEXT_CHARS; at++) {
        if (text[at] != ' ' && text[at] != '\0') continue;
        snprintf(part, sizeof part, "%.*s", (int)at, text);
        if (best > 0 && canvas_text_width(page, style, part) > width) break;
        best = at;
    }
    return best;
}

double canvas_text_wrapped(canvas *page, text_style style, double x, double y, double width,
                           const char *text) {
    char line[TEXT_CHARS];
    while (*text != '\0') {
        size_t length = canvas_text_break(page, style, width, text);
        if (length == 0) break;
        snprintf(line, sizeof line, "%.*s", (int)length, text);
        canvas_text(page, style, x, y, line);
        text += length;
        while (*text == ' ') text++;
        y += 1.35 * style.size;
    }
    return y;
}
