/* gradin: which seats see, which seats hear. Dispatch only. */
#include "command.h"
#include "gradin/run.h"
#include "memory.h"
#include "progress.h"

#include <signal.h>
#include <string.h>

/* Options that stand for a verb. */
static const char *plain_verb(const char *word) {
    static const char *const same[][2] = {
        {"--help", "help"}, {"-h", "help"}, {"--version", "version"}, {"-V", "version"}};
    for (size_t i = 0; i < sizeof same / sizeof *same; i++)
        if (strcmp(word, same[i][0]) == 0) return same[i][1];
    return word;
}

static int refuse_verb(const char *word) {
    const verb_form *near = nearest_verb(&gradin_command, word);
    char list[300] = "";
    size_t used = 0;
    for (int i = 0; i < gradin_command.n_verb && used < sizeof list; i++)
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "",
                                 gradin_command.verb[i]->name);
    if (word[0] == '-')
        say("unknown option '%s'; a verb comes first: %s", word, list);
    else if (near)
        say("unknown verb '%s'; did you mean '%s'?", word, near->name);
    else
        say("unknown verb '%s'; allowed: %s", word, list);
    return EXIT_INPUT;
}

/* Whoever stops it finds no half-written file. */
static void stop(int number) {
    progress_abandon();
    gradin_write_abandon();
    signal(number, SIG_DFL);
    raise(number);
}

int main(int n_argument, char **argument) {
    guard_memory();
    start_well(argument);
    guard_threads();
    static const int stops[] = {SIGINT, SIGTERM, SIGHUP};
    for (size_t i = 0; i < sizeof stops / sizeof *stops; i++)
        if (signal(stops[i], stop) == SIG_IGN) signal(stops[i], SIG_IGN); /* as under nohup */
    signal(SIGPIPE, SIG_IGN); /* a reader that goes shows in the failed write */
    if (n_argument < 2) {
        say("a verb is needed; 'gradin help' lists them");
        return leave_memory(EXIT_INPUT);
    }
    const verb_form *verb = find_verb(&gradin_command, plain_verb(argument[1]));
    return leave_memory(verb ? run_verb(verb, n_argument - 2, argument + 2)
                             : refuse_verb(argument[1]));
}
