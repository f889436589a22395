/* gradin help [VERB], gradin version */
#include "command.h"

static int help(const void *options, const operands *given, gradin_arena *arena,
                gradin_error *error) {
    (void)options, (void)arena, (void)error;
    const char *name = given->n > 0 ? given->text[0] : NULL;
    const verb_form *verb = name ? find_verb(&gradin_command, name) : NULL;
    const verb_form *near = name && !verb ? nearest_verb(&gradin_command, name) : NULL;
    if (near)
        say("help: there is no verb '%s'; did you mean '%s'?", name, near->name);
    else if (name && !verb)
        say("help: there is no verb '%s'; 'gradin help' lists them", name);
    if (name && !verb) return EXIT_INPUT;
    if (verb)
        write_verb_help(stdout, &gradin_command, verb);
    else
        write_overview(stdout, &gradin_command);
    return end_print();
}

static const usage_form help_usage[] = {
    {.need = "at most one verb can be named", .operand = {{"VERB", OPERAND_VERB, 0, 1}}}};
static const example_form help_examples[] = {{"gradin help assess", "all that assess takes"}};

const verb_form help_verb = {
    .name = "help",
    .summary = "print the help of the command or of one verb",
    .description =
        "Prints the verbs of the command, or with a verb all that this verb takes: its "
        "files, its options with their ranges, and its exit status.\n\n"
        "-h and --help in place of the verb do the same, and after a verb they print its help.",
    COUNTED(usage, help_usage),
    COUNTED(example, help_examples),
    .run = help};

static int version(const void *options, const operands *given, gradin_arena *arena,
                   gradin_error *error) {
    (void)options, (void)given, (void)arena, (void)error;
    return print_out("gradin " GRADIN_VERSION "\n");
}

static const usage_form version_usage[] = {{.need = "no argument is allowed"}};

const verb_form version_verb = {
    .name = "version",
    .summary = "print the version",
    .description = "Prints the name and the version of the command. -V and --version do the same.",
    COUNTED(usage, version_usage),
    .run = version};
