/* gradin: which seats see, which seats hear. Dispatch only. */
#include "command.h"

#include <signal.h>
#include <string.h>

static const char help[] =
    "usage: gradin VERB ...\n"
    "\n"
    "  check FILE...                 check any input file\n"
    "  assess LAYOUT --out DIR       what every seat sees and hears: seats.csv, summary.json, "
    "maps\n"
    "      --brief FILE              thresholds other than the layout's own\n"
    "      --samples N               focus samples a seat, 16 to 65536 (1024)\n"
    "      --draws N                 audiences drawn from the population, 1 to 10000 (none)\n"
    "      --threads N               threads (all cores); the results are the same\n"
    "      --bands LIST              maps of bands at the maximum: octaves, or thirds as 100,125\n"
    "      --no-maps                 tables only\n"
    "      --cache DIR               keep rooms by radiosity there, and take them from there\n"
    "      --json                    print the summary as JSON\n"
    "      --quiet                   print nothing but errors\n"
    "  draft WISHES --out LAYOUT     a whole layout from its form and a few wishes, to be edited\n"
    "      --replace                 overwrite LAYOUT (--quiet as above)\n"
    "  rake LAYOUT --block NAME --c MM --out DIR\n"
    "                                the risers a block needs for a wanted C, as its lifts make "
    "them\n"
    "      --form FORM               constant-c (every row the same C) or constant-riser\n"
    "      --step MM                 heights in whole steps of this (10)\n"
    "      --quiet                   as above; exit status 1 when no setting reaches C\n"
    "  rails LAYOUT --out DIR        how high rails could be, which rows overhangs cut off "
    "(--quiet)\n"
    "  changeover FROM TO            the moves between two layouts, and the hours they take\n"
    "      --gap HOURS               between two shows; exit status 1 when it does not fit\n"
    "      --out DIR                 moves.csv, changeover.json, moves.png\n"
    "      --json, --quiet           as above\n"
    "  changeover --matrix LAYOUT... hours between each two of 2 to 7 layouts\n"
    "  fit LAYOUT                    open edges, rows, exits, loads against what the venue states\n"
    "                                (--json)\n"
    "  glazing FILE [BUILDUP...]     R and ratings of a venue's build-ups, or of a CSV of band "
    "values\n"
    "      --out DIR                 glazing.png, glazing.csv, glazing.json\n"
    "      --fit BUILDUP             loss and interlayer modulus from its measurement, for all\n"
    "      --temperature C           of the interlayers, -20 to 60 \xC2\xB0"
    "C\n"
    "      --shade NAME              with this shade of the venue shut\n"
    "      --pane WxH                panes of this width and height in m, not of no size\n"
    "      --in-place                with the joint round a window in place\n"
    "      --json, --quiet           as above\n"
    "  overflight LAYOUT --traffic FILE\n"
    "                                a season of traffic at every seat (--brief, --cache,\n"
    "                                --threads, --json, --quiet)\n"
    "      --out DIR                 season-seats.csv, flights.csv, season.json, plots, maps\n"
    "      --seat SEAT               draw its level against time; up to 6 times\n"
    "      --bands LIST, --no-maps   as above\n"
    "      --skip-bad                leave out bad rows of the events and name them\n"
    "  help, version\n"
    "\n"
    "exit status: 0 done, 1 a stated limit is not met, 2 bad input or use, 3 the machine failed\n"
    "(disk, memory)\n"
    "\n"
    "Results are predictions. Rails, guards, egress, loads and moving machinery: the local code, "
    "the\n"
    "maker's procedure and a licensed professional decide.\n";

typedef struct verb {
    const char *name;
    int (*run)(int n_argument, char **argument);
} verb;

static int verb_help(int n_argument, char **argument) {
    (void)n_argument;
    (void)argument;
    return print_out(help);
}

static int verb_version(int n_argument, char **argument) {
    (void)n_argument;
    (void)argument;
    return print_out("gradin " GRADIN_VERSION "\n");
}

static const verb verbs[] = {
    {"check", verb_check}, {"assess", verb_assess},    {"draft", verb_draft},
    {"rake", verb_rake},   {"rails", verb_rails},      {"changeover", verb_changeover},
    {"fit", verb_fit},     {"glazing", verb_glazing},  {"overflight", verb_overflight},
    {"help", verb_help},   {"version", verb_version},  {"--help", verb_help},
    {"-h", verb_help},     {"--version", verb_version}};
enum { N_VERB = sizeof verbs / sizeof *verbs, N_PLAIN_VERB = 11 };

static int unknown_verb(const char *name) {
    int best = -1, best_distance = 3;
    for (int i = 0; i < N_PLAIN_VERB; i++) {
        int distance = gradin_edit_distance(name, verbs[i].name);
        if (distance < best_distance) {
            best_distance = distance;
            best = i;
        }
    }
    if (best >= 0)
        say("unknown verb '%s'; did you mean '%s'?", name, verbs[best].name);
    else
        say("unknown verb '%s'; allowed: check, assess, draft, rake, rails, changeover, fit, "
            "glazing, "
            "overflight, help, "
            "version",
            name);
    return EXIT_INPUT;
}

static bool asks_help(int n_argument, char **argument) {
    for (int i = 0; i < n_argument && strcmp(argument[i], "--") != 0; i++)
        if (strcmp(argument[i], "--help") == 0) return true;
    return false;
}

int main(int n_argument, char **argument) {
    signal(SIGPIPE, SIG_IGN); /* a closed pipe is told by the failed write */
    if (n_argument < 2) {
        say("a verb is needed; 'gradin help' lists them");
        return EXIT_INPUT;
    }
    for (int i = 0; i < N_VERB; i++)
        if (strcmp(argument[1], verbs[i].name) == 0)
            return asks_help(n_argument - 2, argument + 2)
                       ? print_out(help)
                       : verbs[i].run(n_argument - 2, argument + 2);
    return unknown_verb(argument[1]);
}
