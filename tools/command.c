/* The command as a whole: its verbs and what holds for all of them. */
#include "command.h"

static const verb_form *const verbs[] = {
    &check_verb,      &assess_verb,     &compare_verb, &draft_verb, &rake_verb,    &rails_verb,
    &changeover_verb, &programme_verb,  &choose_verb,  &sweep_verb, &fit_verb,     &glazing_verb,
    &spectrum_verb,   &overflight_verb, &outlook_verb, &view_verb,  &section_verb, &page_verb,
    &listen_verb,     &report_verb,     &export_verb,  &help_verb,  &version_verb};

const char *const scale_words[] = {
    [GRADIN_MAP_SCALE_FITTED] = "fitted", [GRADIN_MAP_SCALE_FIXED] = "fixed", NULL};
const char *const units_words[] = {[GRADIN_CSV_SI] = "m", [GRADIN_CSV_FEET] = "ft", NULL};

static const char *const status[] = {"done", "a stated limit is not met", "bad input or use",
                                     "the machine failed (disk, memory)"};

const command_form gradin_command = {
    .name = "gradin",
    .version = GRADIN_VERSION,
    .date = "November 28, 2026",
    .summary = "sightlines and exterior noise at every seat of a convertible hall",
    .description =
        "gradin tests the layouts of a hall that can be rebuilt: what every seat sees, what it "
        "hears of an aircraft outside, how high rows and rails may be, and how long it takes to "
        "get from one layout to the next.\n\n"
        "Halls, layouts and what flies over them are YAML files. Results go to standard output, "
        "and with --out to files. The name - stands for standard input where a file is read, once "
        "per "
        "run; what it names lies in the working folder. Messages go to standard error. When the "
        "reader of standard "
        "output goes away, as head does, that is no failure.",
    .caution = "Results are predictions. Rails, guards, egress, loads and moving machinery: the "
               "local code, the maker's procedure and a licensed professional decide.",
    .status = status,
    COUNTED(verb, verbs)};
