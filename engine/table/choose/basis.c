/* What moves the ranking of a choice, and what its figures stand on. */
#include "table/choose/choose.h"
#include "table/shared/date.h"
#include "table/shared/gaps.h"

enum { WISH_COLUMNS = 24 };

static void put_share(table_text *out, double share, int columns) {
    table_put_right(out, TABLE_COUNT, 100.0 * share, columns);
    table_put(out, " %");
}

static void put_beyond(table_text *out, const gradin_choice *choice, const char *word, double at,
                       int other) {
    if (other < 0) return;
    table_print(out, "; %s ", word);
    put_share(out, at, 0);
    table_print(out, " it is %s", table_choice_layout(choice, other));
}

static void put_wish(table_text *out, const gradin_choice *choice, int k) {
    const gradin_weight_room *w = &choice->weight[k];
    table_put(out, "  ");
    table_put_fitted(out, gradin_ask_name(choice->show->wished[k].ask), WISH_COLUMNS, true);
    put_share(out, w->share, 4);
    if (w->below < 0 && w->above < 0) {
        table_put(out, "  stays first whatever it weighs\n");
        return;
    }
    table_put(out, "  stays first from ");
    put_share(out, w->least, 0);
    table_put(out, " to ");
    put_share(out, w->most, 0);
    put_beyond(out, choice, "below", w->least, w->below);
    put_beyond(out, choice, "above", w->most, w->above);
    table_put(out, "\n");
}

static int count_contenders(const gradin_choice *choice) {
    return choice->n_meets > 0 ? choice->n_meets : choice->n_near;
}

static void put_all_weights(table_text *out, const gradin_choice *choice) {
    const char *glue = "";
    table_put(out, "  Were any weights as likely as others, first would be ");
    for (int k = 0; k < count_contenders(choice); k++) {
        int i = choice->order[k];
        table_print(out, "%s%s in ", glue, table_choice_layout(choice, i));
        put_share(out, choice->candidate[i].weight_share, 0);
        glue = ", ";
    }
    table_put(out, ".\n");
}

void table_choice_weights(table_text *out, const gradin_choice *choice) {
    if (choice->show->n_wished < 2 || count_contenders(choice) < 2) return;
    table_print(out,
                "\nHow far one weight may go before %s is not first (the others keep their "
                "proportions)\n",
                table_choice_layout(choice, choice->order[0]));
    for (int k = 0; k < choice->show->n_wished; k++) put_wish(out, choice, k);
    put_all_weights(out, choice);
}

static void put_noise_basis(table_text *out, const gradin_choice *choice) {
    char first[TABLE_DATE_CHARS], last[TABLE_DATE_CHARS];
    const gradin_show_noise *n = &choice->candidate[0].noise;
    if (!n->is_there) return;
    table_print(out,
                "Traffic: %s, %d performances on its days from %s to %s, in which %d events fall; "
                "other days have other traffic. Events are expected ones, a mean over the "
                "performances: ",
                choice->traffic->name, n->n_performance, table_date(first, n->first_day_s),
                table_date(last, n->last_day_s), n->n_event);
    table_put_number(out, TABLE_COUNT, choice->show->percentile);
    table_put(out, " % of the seats to sell have no more than stated. Bounds at a confidence of ");
    put_share(out, choice->show->confidence, 0);
    table_put(out, ". ");
    if (choice->show->is_amplified)
        table_put(out, "The voice is amplified: words lost are not looked at. ");
}

static void put_share_basis(table_text *out, const gradin_choice *choice) {
    if (choice->show->n_partner == 0) return;
    const gradin_machinery *machinery = choice->candidate[0].model->machinery;
    bool has_rests = machinery && (machinery->work.n_shift > 0 || machinery->work.n_rest > 0);
    table_put(out, "Changeovers are sums of stated rates, the longer of both ways. ");
    table_put(out, has_rests ? "They keep to the venue's shifts and breaks, from the stated start, "
                               "or else from the start that makes them longest. Faults and "
                               "learning are not in them; "
                             : "Breaks, faults and learning are not in them; ");
    table_put(out, "the margin is for these. Hours of work are for law and agreement. ");
}

void table_choice_basis(table_text *out, const gradin_choice *choice) {
    const char *brief = choice->candidate[0].model->limits.brief;
    table_put(out, "\n");
    if (brief && !choice->are_limits_other) table_print(out, "Rated by the brief %s. ", brief);
    table_put(out, "Figures are of the seats to sell, all of them taken. Samples leave single "
                   "seats open by three standard errors, and a distance by 50 mm. ");
    put_noise_basis(out, choice);
    put_share_basis(out, choice);
    if (choice->are_limits_other)
        table_put(out, "The layouts are rated by different limits: a brief in the show would rate "
                       "them by one. ");
    table_print(out, "Draws: %d, the same errors for all layouts where they share them.\n",
                GRADIN_N_CHOICE_DRAW);
    const gradin_show_noise *noise = &choice->candidate[choice->order[0]].noise;
    if (!noise->is_there || !(noise->gaps_db > 0.0)) return;
    table_put_gaps(out, &noise->gaps);
    table_put(out, "  The upper bounds of events and words hold ");
    table_put_number(out, TABLE_DECIBEL, noise->gaps_db);
    table_put(out, " dB for that; the draws do not.\n");
}
