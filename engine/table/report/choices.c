/* The choice of a layout for a show, in the report: ranking, must-haves with figure and margin, and
 * how often each layout comes first when all that is uncertain is drawn by chance. */
#include "table/choose/choose.h"
#include "table/report/html.h"

#include <math.h>

/* What a writer of plain text makes, with references. */
static void put_plain(table_text *out, const table_text *plain) {
    html_put(out, plain->bytes ? plain->bytes : "");
    out->failed |= plain->failed;
}

static void put_share(table_text *out, double share) {
    table_put(out, "<td class=\"n\">");
    table_put_number(out, TABLE_COUNT, 100.0 * share);
    table_put(out, " %</td>");
}

static void put_place(table_text *out, const gradin_choice *choice, int place) {
    const gradin_candidate *c = &choice->candidate[choice->order[place]];
    table_print(out, "<tr><td class=\"n\">%d</td><th scope=\"row\">", place + 1);
    html_put(out, c->model->layout_name);
    table_print(out, "</th><td>%s</td>", table_choice_verdict(c->verdict));
    if (choice->show->n_wished > 0) {
        table_put(out, "<td class=\"n\">");
        table_put_number(out, TABLE_COUNT, 100.0 * c->score);
        table_put(out, "</td>");
    }
    put_share(out, c->meets_share);
    put_share(out, c->first_share);
    table_print(out, "<td class=\"n\">%.0f</td><td class=\"n\">%d</td></tr>\n",
                c->figure[GRADIN_ASK_SEATS].value, c->n_held);
}

static void put_ranking(table_text *out, const gradin_choice *choice) {
    table_put(out, "<div class=\"wide\"><table><caption>Best first: those that have all, those too "
                   "near to tell, those that lack some. Shares are of draws of all that is "
                   "uncertain.</caption><thead><tr><th scope=\"col\" class=\"n\">place</th><th "
                   "scope=\"col\">layout</th><th scope=\"col\">must-haves</th>");
    if (choice->show->n_wished > 0)
        table_put(out, "<th scope=\"col\" class=\"n\">wishes, of 100</th>");
    table_put(out, "<th scope=\"col\" class=\"n\">has all</th><th scope=\"col\" class=\"n\">comes "
                   "first</th><th scope=\"col\" class=\"n\">seats to sell</th><th scope=\"col\" "
                   "class=\"n\">held back</th></tr></thead>\n<tbody>\n");
    for (int k = 0; k < choice->n_candidate; k++) put_place(out, choice, k);
    table_put(out, "</tbody></table></div>\n");
}

static void put_figure(table_text *out, gradin_ask ask, double value, const char *units) {
    table_text plain = {.arena = out->arena};
    table_put_asked(&plain, ask, value, units);
    put_plain(out, &plain);
}

/* "53.1 % (52.9 to 53.4)" */
static void put_known(table_text *out, const gradin_must *m, const char *units) {
    const gradin_asked *f = &m->figure;
    table_text plain = {.arena = out->arena};
    table_put_asked(&plain, m->ask, f->value, units);
    if (f->low < f->high) {
        table_put(&plain, " (");
        table_put_bare(&plain, m->ask, f->low, units);
        table_put(&plain, " to ");
        table_put_bare(&plain, m->ask, f->high, units);
        table_put(&plain, ")");
    }
    put_plain(out, &plain);
}

static void put_margin(table_text *out, const gradin_must *m, const char *units) {
    bool has_margin = m->ask != GRADIN_ASK_FORM && isfinite(m->margin);
    if (!has_margin) {
        table_put(out, "\xe2\x80\x93");
        return;
    }
    table_text plain = {.arena = out->arena};
    bool is_share = m->ask == GRADIN_ASK_CLEAR || m->ask == GRADIN_ASK_GOOD;
    table_put(out, m->margin < 0.0 ? "\xe2\x88\x92" : "+");
    if (is_share) {
        table_put_bare(&plain, m->ask, fabs(m->margin), units);
        table_put(&plain, " points");
    } else
        table_put_asked(&plain, m->ask, fabs(m->margin), units);
    put_plain(out, &plain);
}

static void put_must(table_text *out, const gradin_choice *choice, const gradin_candidate *c,
                     const gradin_must *m) {
    table_text name = {.arena = out->arena};
    table_put_ask(&name, choice, m->ask, m->partner);
    table_put(out, "<tr><th scope=\"row\">");
    put_plain(out, &name);
    table_put(out, "</th><td class=\"n\">");
    put_known(out, m, c->model->units);
    table_put(out, "</td><td class=\"n\">");
    if (m->ask != GRADIN_ASK_FORM)
        table_put(out, gradin_ask_wants_more(m->ask) ? "at least " : "at most ");
    put_figure(out, m->ask, m->need, c->model->units);
    table_put(out, "</td><td class=\"n\">");
    put_margin(out, m, c->model->units);
    table_print(out, "</td><td>%s</td></tr>\n", table_must_word(m->verdict));
}

static void put_what_lets_in(table_text *out, const gradin_choice *choice, int candidate) {
    table_text change = {.arena = out->arena};
    table_choice_lets_in(&change, choice, candidate);
    if (change.size == 0) return;
    table_put(out, "<p>The smallest change that lets it in: ");
    put_plain(out, &change);
    table_put(out, "</p>\n");
}

static void put_musts(table_text *out, const gradin_choice *choice, int candidate) {
    const gradin_candidate *c = &choice->candidate[candidate];
    if (c->n_must == 0) return;
    table_put(out, "<h3>");
    html_put(out, c->model->layout_name);
    table_put(out, "</h3>\n<div class=\"wide\"><table><caption>What the show must have; a margin "
                   "with a plus is better than the need</caption><thead><tr><th scope=\"col\">"
                   "must-have</th><th scope=\"col\" class=\"n\">figure</th><th scope=\"col\" "
                   "class=\"n\">need</th><th scope=\"col\" class=\"n\">margin</th><th "
                   "scope=\"col\">verdict</th></tr></thead>\n<tbody>\n");
    for (int k = 0; k < c->n_must; k++) put_must(out, choice, c, &c->must[k]);
    table_put(out, "</tbody></table></div>\n");
    put_what_lets_in(out, choice, candidate);
}

void html_put_choice(table_text *out, const gradin_choice *choice) {
    table_text answer = {.arena = out->arena};
    table_choice_answer(&answer, choice);
    table_put(out, "<p>Show: ");
    html_put(out, choice->show->name);
    table_put(out, ". ");
    put_plain(out, &answer);
    table_put(out, "</p>\n");
    put_ranking(out, choice);
    if (choice->candidate[0].n_must == 0) table_put(out, "<p>The show must have nothing.</p>\n");
    for (int k = 0; k < choice->n_candidate; k++) put_musts(out, choice, choice->order[k]);
    table_put(out, "<p>Seats are rated here by the show's own brief, where it has one, and shades "
                   "and crew are as the show has them. So figures may differ from those above. It "
                   "approves nothing.</p>\n");
}
