/* tools/definition/form.h: what a verb is and takes. From this one record come the parser and its
 * ranges, the help on the terminal, the manual pages and the completion of shells. Nothing here
 * knows a particular verb. */
#ifndef GRADIN_TOOLS_FORM_H
#define GRADIN_TOOLS_FORM_H

#include "gradin/base.h"

#include <stdio.h>

typedef enum option_kind {
    OPTION_FLAG,
    OPTION_INTEGER,
    OPTION_NUMBER,
    OPTION_CHOICE, /* one of some words, kept as its index */
    OPTION_TEXT,
    OPTION_TEXTS, /* may be given several times */
    OPTION_LIST,  /* divided by commas, kept as written */
    OPTION_FILE,  /* a path to read or to write */
    OPTION_FOLDER /* a path of a folder */
} option_kind;

enum { MOST_TEXTS = 16 };
typedef struct option_texts {
    const char *text[MOST_TEXTS];
    int n;
} option_texts;

typedef struct option_form {
    const char *name;          /* with its dashes */
    const char *value;         /* stands for its value in texts, such as "N"; NULL for a flag */
    const char *meaning;       /* a phrase; range and default are added to it */
    const char *unit;          /* of a number, in the plural; NULL without */
    const char *absent;        /* what holds when it is not given; NULL: the preset, if any */
    const char *const *choice; /* words of a choice, or some of a list; ended by NULL */
    double least, most;        /* of a number */
    double preset;             /* of a number, or of a choice (its index) */
    size_t offset;             /* of its target; written by the macros below */
    option_kind kind;          /* written by the macros below */
    int most_times;            /* OPTION_TEXTS: 1..MOST_TEXTS */
    unsigned usages;           /* bit u: goes with usage u; 0: with all */
    bool is_required, is_above_least, is_preset_shown;
} option_form;

/* .kind and .offset of the target MEMBER of the verb's own options struct TYPE. A member of another
 * type than the kind needs does not compile. */
#define OPTION_TARGET(type, member, wanted)                                                        \
    .offset = offsetof(type, member) + 0 * sizeof(char[_Generic(((type *)0)->member, wanted : 1)])
#define AS_FLAG(type, member) .kind = OPTION_FLAG, OPTION_TARGET(type, member, bool)
#define AS_INTEGER(type, member) .kind = OPTION_INTEGER, OPTION_TARGET(type, member, int)
#define AS_NUMBER(type, member) .kind = OPTION_NUMBER, OPTION_TARGET(type, member, double)
#define AS_CHOICE(type, member) .kind = OPTION_CHOICE, OPTION_TARGET(type, member, int)
#define AS_TEXT(type, member) .kind = OPTION_TEXT, OPTION_TARGET(type, member, const char *)
#define AS_TEXTS(type, member) .kind = OPTION_TEXTS, OPTION_TARGET(type, member, option_texts)
#define AS_LIST(type, member) .kind = OPTION_LIST, OPTION_TARGET(type, member, const char *)
#define AS_FILE(type, member) .kind = OPTION_FILE, OPTION_TARGET(type, member, const char *)
#define AS_FOLDER(type, member) .kind = OPTION_FOLDER, OPTION_TARGET(type, member, const char *)

typedef enum operand_kind {
    OPERAND_YAML, /* a YAML file */
    OPERAND_FILE, /* any file */
    OPERAND_NAME, /* of something in a file */
    OPERAND_VERB
} operand_kind;

enum { ANY_NUMBER = 1000000 };
typedef struct operand_form {
    const char *name; /* such as LAYOUT */
    operand_kind kind;
    int least, most; /* 0 and ANY_NUMBER allowed */
} operand_form;

/* One way to call a verb. */
enum { MOST_OPERANDS = 2 };
typedef struct usage_form {
    const char *selector; /* the flag that chooses it; NULL for the first usage */
    const char *need;     /* what operands it takes, a clause: "one layout is needed" */
    operand_form operand[MOST_OPERANDS]; /* name NULL beyond the last */
} usage_form;

/* What a verb was given beside its options. */
typedef struct operands {
    const char *const *text; /* [n] */
    int n, usage;            /* usage: index into the verb's own */
} operands;

typedef struct example_form {
    const char *command, *meaning;
} example_form;

typedef struct verb_form {
    const char *name;
    const char *summary;       /* a phrase of at most 60 characters */
    const char *description;   /* sentences; an empty line divides paragraphs */
    const char *limit;         /* what exit status 1 says of it, a phrase; NULL: it never ends so */
    const usage_form *usage;   /* [n_usage] */
    const option_form *option; /* [n_option] */
    const example_form *example; /* [n_example] */
    int n_usage, n_option, n_example;
    size_t options_size; /* of the struct that the options are written to */
    /* Options are of that struct. An exit status. */
    int (*run)(const void *options, const operands *given, gradin_arena *arena,
               gradin_error *error);
} verb_form;

#define COUNTED(name, array) .name = (array), .n_##name = (int)(sizeof(array) / sizeof *(array))

/* The command as a whole. */
typedef struct command_form {
    const char *name, *version, *date; /* date: of the manual, "Month day, year" */
    const char *summary;
    const char *description;      /* paragraphs */
    const char *caution;          /* paragraphs */
    const char *const *status;    /* [4] what exit status 0 to 3 mean, phrases */
    const verb_form *const *verb; /* [n_verb] */
    int n_verb;
} command_form;

/* NULL when there is none. */
const verb_form *find_verb(const command_form *command, const char *name);
/* The verb that `name` may be a slip for; NULL. */
const verb_form *nearest_verb(const command_form *command, const char *name);

/* What is wrong with the arguments, one line without the verb's name. */
typedef struct complaint {
    char text[320];
} complaint;

/* Writes presets and options to options[options_size], operands to operand[n_argument]. False with
 * a complaint. */
bool parse_arguments(const verb_form *verb, int n_argument, char **argument, void *options,
                     const char **operand, operands *given, complaint *wrong);
/* True when they hold -h or --help. */
bool asks_help(int n_argument, char **argument);

/* Reads the value of an option into the options. False with a complaint. */
bool take_value(const option_form *form, const char *value, void *options, complaint *wrong);
/* "16 to 65536", "above 0 up to 1000 hours", "constant-c or constant-riser"; "" when all is
 * allowed. Returns out[size]. */
const char *option_range(const option_form *form, char *out, size_t size);
/* "1024", "all cores"; "" when there is nothing to say. */
const char *option_default(const option_form *form, char *out, size_t size);
/* Meaning, range and default in one: "rays per seat (16 to 65536; default: 1024)". */
const char *option_text(const option_form *form, char *out, size_t size);
/* False: it does not go with that usage of its verb. */
bool is_option_of(const option_form *form, int usage);

/* Outputs. Each writes to a stream; the caller asks it for errors. */
enum { TEXT_COLUMNS = 80 };
void write_overview(FILE *out, const command_form *command);
void write_verb_help(FILE *out, const command_form *command, const verb_form *verb);
void write_manual(FILE *out, const command_form *command);
void write_verb_manual(FILE *out, const command_form *command, const verb_form *verb);
void write_bash_completion(FILE *out, const command_form *command);
void write_zsh_completion(FILE *out, const command_form *command);

/* Words of text from column `at` on, lines broken before `columns` and begun at `indent`, a line
 * break at the end. An empty line in text divides paragraphs. */
void write_wrapped(FILE *out, const char *text, int at, int indent, int columns);
/* Characters of UTF-8 text, a combining one like any other. */
int text_columns(const char *text);

#endif
