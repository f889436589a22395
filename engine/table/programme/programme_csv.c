/* A programme as RFC 4180, one line per show with the changeover before it. Every line with one
 * carries the caution, for a line may travel alone. */
#include "base/use.h"
#include "gradin/studies/programme_write.h"
#include "studies/shared/complete.h"
#include "table/programme/programme.h"

static const char header[] =
    "show,starts,ends,layout,from_layout,window_from,window_to,changeover_from,changeover_to,"
    "person_hours,night_hours,cost,short_s,clash,caution\r\n";
static const char caution[] =
    "nobody under or on moving machinery; trained operators; the maker's procedure";

static void put_time(table_text *out, int64_t time_s) {
    char text[TABLE_DATE_CHARS];
    table_print(out, "%s,", table_time(text, time_s, 'T'));
}

static void put_change(table_text *out, const gradin_programme_plan *plan,
                       const gradin_staging *s) {
    if (!table_is_changed(s) || s->no_way) {
        table_put(out, ",,,,,0,0,0,0,");
        return;
    }
    table_put_quoted(out, table_staged_layout(plan, s->from_layout));
    table_put(out, ",");
    put_time(out, s->free_s);
    put_time(out, s->due_s);
    put_time(out, s->begin_s);
    put_time(out, s->done_s);
    const double value[3] = {s->person_hours, s->night_hours, s->cost};
    for (int i = 0; i < 3; i++) {
        table_put_number(out, TABLE_AREA, value[i]);
        table_put(out, ",");
    }
    table_print(out, "%d,", s->short_s);
}

static void put_show(table_text *out, const gradin_programme_plan *plan, int show) {
    const gradin_booking *b = &plan->programme->booking[show];
    const gradin_staging *s = &plan->staging[show];
    table_text clash = {.arena = out->arena};
    table_put_clash(&clash, plan, show);
    table_put_quoted(out, b->name);
    table_put(out, ",");
    put_time(out, b->start_s);
    put_time(out, b->end_s);
    table_put_quoted(out, table_staged_layout(plan, s->layout));
    table_put(out, ",");
    put_change(out, plan, s);
    if (clash.bytes) table_put_quoted(out, clash.bytes);
    out->failed |= clash.failed;
    table_put(out, ",");
    if (table_is_changed(s)) table_put_quoted(out, caution);
    table_put(out, "\r\n");
}

gradin_status gradin_programme_csv(gradin_arena *arena, const gradin_programme_plan *plan,
                                   char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        programme_complete(plan, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, header);
    for (int i = 0; i < plan->programme->n_booking; i++) put_show(&out, plan, i);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the programme");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
