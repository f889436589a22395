/* CSV of other programs: RFC 4180 but for line breaks within quotes, which are refused. */
#include "files/parse/cells.h"
#include "files/parse/lines.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static bool is_blank(char c) {
    return c == ' ' || c == '\t';
}

/* Characters of UTF-8 in the bytes from `from` to `to`. */
static int characters(const char *from, const char *to) {
    int n = 0;
    for (; from < to; from++) n += ((unsigned char)*from & 0xC0) != 0x80;
    return n;
}

/* A quoted cell, its doubled quotes made one; the byte after it, or NULL when it does not end. */
static char *take_quoted(char *at, char **text) {
    char *out = *text = ++at;
    for (; *at; at++) {
        if (*at == '"' && at[1] != '"') {
            *out = '\0';
            return at + 1;
        }
        if (*at == '"') at++;
        *out++ = *at;
    }
    return NULL;
}

static char *take_plain(char *at, char separator, char **text) {
    char *end = strchr(*text = at, separator), *last;
    if (!end) end = at + strlen(at);
    for (last = end; last > at && is_blank(last[-1]);) last--;
    /* The separator itself is still to be seen: what stands between is blank. */
    if (last < end) *last = '\0';
    return end;
}

/* Cuts the line at `line` into cells; false when it has too many or a quote stays open. */
static bool cut(cell_file *rows, char *line) {
    char *at = line, separator = rows->separator;
    for (rows->n_cell = 0; rows->n_cell < MAX_CELL;) {
        cell *made = &rows->cell[rows->n_cell++];
        while (is_blank(*at) && *at != separator) at++;
        made->column = characters(line, at) + 1;
        bool is_quoted = *at == '"';
        char *end =
            is_quoted ? take_quoted(at, &made->text) : take_plain(at, separator, &made->text);
        while (end && is_quoted && is_blank(*end) && *end != separator) end++;
        if (!end || (*end && *end != separator)) return false;
        if (!*end) return true;
        *end = '\0';
        at = end + 1;
    }
    return false;
}

static void complain_of_line(reader *r, const cell_file *rows, const char *text) {
    complain_line(r, rows->path, rows->line, text);
}

bool cells_names(reader *r, cell_file *rows) {
    if (!cut(rows, lines_take(&rows->next, &rows->line))) {
        complain_of_line(r, rows,
                         "is no line of column names: a quote stays open, or there are "
                         "more than 200");
        return false;
    }
    rows->n_name = rows->n_cell;
    for (int i = 0; i < rows->n_cell; i++) rows->name[i] = rows->cell[i].text;
    return true;
}

bool cells_open(reader *r, const node *at, const char *path, size_t most_bytes, char separator,
                cell_file *out) {
    char *bytes = lines_open(r, at, path, most_bytes);
    if (!bytes) return false;
    *out = (cell_file){.path = path, .next = bytes, .separator = separator};
    return cells_names(r, out);
}

static bool is_whole(reader *r, const cell_file *rows, bool is_cut) {
    if (!is_cut)
        complain_of_line(r, rows, "has a quote that stays open, or more text behind one");
    else if (rows->n_cell != rows->n_name)
        refuse(&r->c, &(gradin_place){.file = rows->path, .line = rows->line, .column = 1},
               "has %d cells; the first line has %d", rows->n_cell, rows->n_name);
    return is_cut && rows->n_cell == rows->n_name;
}

bool cells_next(reader *r, cell_file *rows) {
    while (rows->next) {
        char *line = lines_take(&rows->next, &rows->line);
        if (rows->line_of) rows->line = rows->line_of[rows->n_made++];
        if (line[strspn(line, " \t")] == '\0') continue;
        if (is_whole(r, rows, cut(rows, line))) return true;
    }
    return false;
}

int cells_find(reader *r, const cell_file *rows, const node *at, const char *key,
               const char *name) {
    int found = -1, n = 0;
    for (int i = 0; i < rows->n_name; i++)
        if (strcmp(rows->name[i], name) == 0 && n++ == 0) found = i;
    if (n == 1) return found;
    if (n > 1)
        complain_key(r, at, key, "is the name of %d columns of %s", n, rows->path);
    else {
        int near = gradin_nearest_name(name, rows->name, rows->n_name);
        complain_key(r, at, key, "'%s' is no column of %s%s%s%s", name, rows->path,
                     near >= 0 ? "; did you mean '" : "", near >= 0 ? rows->name[near] : "",
                     near >= 0 ? "'?" : "");
    }
    return -1;
}

void cells_complain(reader *r, const cell_file *rows, int index, const char *format, ...) {
    gradin_place place = {.file = rows->path,
                          .line = rows->line,
                          .column = rows->line_of ? 1 : rows->cell[index].column,
                          .key = rows->name[index]};
    va_list arguments;
    va_start(arguments, format);
    refuse_list(&r->c, &place, format, arguments);
    va_end(arguments);
}
