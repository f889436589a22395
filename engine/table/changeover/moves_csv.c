/* A changeover's moves as RFC 4180: cells divided by commas, lines ended by CR LF. Every line of a
 * machine or of rails carries its caution, for a line may travel alone. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/shared/date.h"

static const char header[] =
    "move,start_s,end_s,duration_s,kind,lane,name,task,crew,power_kw,people_near,critical,"
    "near_critical,float_s,starts,waits_for,rule,store_trips_s,block,seats,gang,people,store_"
    "people,"
    "state,start,end,caution\r\n";
static const char caution[] =
    "nobody under or on moving machinery; trained operators; the maker's procedure";

static const char edge_caution[] = "an edge is open meanwhile; nobody else near it; secured "
                                   "against falls by the house's own procedure";

static void put_times(table_text *out, const gradin_changeover *c, const gradin_move *m) {
    char start[TABLE_DATE_CHARS] = "", end[TABLE_DATE_CHARS] = "";
    if (c->has_start) {
        table_stamp(start, c->start_s + m->start_s);
        table_stamp(end, c->start_s + m->end_s);
    }
    table_print(out, "%s,%s,", start, end);
}

/* Of each trip, where the store lift asks for people of its own. */
static void put_store_people(table_text *out, const gradin_move *m) {
    if (!m->trip_people) return;
    table_put(out, "\"");
    for (int i = 0; i < m->n_trip; i++)
        table_print(out, "%s%s", i > 0 ? "; " : "", m->trip_people[i]);
    table_put(out, "\"");
}

static void put_move(table_text *out, const gradin_changeover *c, const gradin_move *m,
                     int number) {
    table_print(out, "%d,%d,%d,%d,%s,", number, m->start_s, m->end_s, m->duration_s,
                table_move_kind(m->kind));
    table_put_quoted(out, m->lane);
    table_put(out, ",");
    table_put_quoted(out, m->name);
    table_put(out, ",");
    table_put_quoted(out, m->task);
    table_print(out, ",%d,", m->crew);
    table_put_number(out, TABLE_PERCENT, m->power_kw);
    table_print(out, ",%s,%s,%s,%d,%s,", m->are_people_near ? "yes" : "no",
                m->is_critical ? "yes" : "no", m->is_near ? "yes" : "no", m->float_s,
                table_move_cause(m->cause));
    if (m->waits_for >= 0) table_print(out, "%d", m->waits_for + 1);
    table_put(out, ",");
    if (m->rule) table_put_quoted(out, m->rule);
    table_put(out, ",");
    for (int i = 0; i < m->n_trip; i++)
        table_print(out, "%s%d", i > 0 ? " " : "", m->trip_start_s[i]);
    table_put(out, ",");
    if (m->block) table_put_quoted(out, m->block);
    table_put(out, ",");
    if (m->block) table_print(out, "%d", m->n_seat);
    table_put(out, ",");
    table_put_quoted(out, m->gang ? m->gang : "");
    table_put(out, ",");
    table_put_quoted(out, m->people ? m->people : "");
    table_put(out, ",");
    put_store_people(out, m);
    table_print(out, ",%s,", table_move_state(m->state));
    put_times(out, c, m);
    if (m->kind == GRADIN_MOVE_MACHINE) table_put_quoted(out, caution);
    if (m->is_rail) table_put_quoted(out, edge_caution);
    table_put(out, "\r\n");
}

gradin_status gradin_changeover_csv(gradin_arena *arena, const gradin_changeover *changeover,
                                    char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        changeover_complete(changeover, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, header);
    for (int i = 0; i < changeover->n_move; i++)
        put_move(&out, changeover, &changeover->move[i], i + 1);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the move list");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
