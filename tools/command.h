/* tools/command.h: the `gradin` command. It parses, calls the library and writes; only it prints.
 */
#ifndef GRADIN_TOOLS_COMMAND_H
#define GRADIN_TOOLS_COMMAND_H

#include "gradin/gradin.h"

/* Exit statuses. */
enum { EXIT_DONE = 0, EXIT_LIMIT = 1, EXIT_INPUT = 2, EXIT_MACHINE = 3 };

typedef struct options {
    const char *const *file; /* [n_file] */
    int n_file;
    const char *out_dir, *brief;
    const char *cache;              /* folder that keeps rooms by radiosity */
    const char *bands;              /* maps of these bands, as the user wrote them */
    const char *fit;                /* build-up to which glazing fits */
    const char *shade, *pane;       /* glazing: a shade shut, WIDTHxHEIGHT in m */
    int temperature_c;              /* glazing: of the interlayers */
    bool is_in_place;               /* glazing: with the perimeter path */
    int n_sample, n_thread, n_draw; /* 0 when not given */
    gradin_band_choice band;
    bool is_quiet, is_json, is_without_maps;
} options;

/* One option that a verb takes. */
typedef enum option_kind { OPTION_FLAG, OPTION_TEXT, OPTION_COUNT, OPTION_TEXTS } option_kind;
typedef struct option_texts { /* one option given several times */
    const char *text[16];
    int n;
} option_texts;
typedef struct option_form {
    const char *name; /* with its dashes */
    option_kind kind;
    void *out;       /* bool*, const char**, int*, option_texts* */
    int least, most; /* OPTION_COUNT */
} option_form;

/* Splits arguments into options and files (into file[n_argument]). False after a line on stderr. */
bool parse_options(const char *verb, int n_argument, char **argument, const option_form *form,
                   int n_form, const char **file, int *n_file);

/* The verbs: arguments after the verb; an exit status. */
int verb_check(int n_argument, char **argument);
int verb_assess(int n_argument, char **argument);
int verb_draft(int n_argument, char **argument);
int verb_rake(int n_argument, char **argument);
int verb_rails(int n_argument, char **argument);
int verb_changeover(int n_argument, char **argument);
int verb_fit(int n_argument, char **argument);
int verb_glazing(int n_argument, char **argument);
int verb_overflight(int n_argument, char **argument);

/* Bands of which maps are wanted: "octaves", nominal mid-bands of third octaves, or both, divided
 * by commas; NULL chooses none. False after a line on stderr. */
bool parse_bands(const char *verb, const char *text, gradin_band_choice *choice);

/* All diagnostics on stderr, one a line. The exit status that the family calls for. */
int report(gradin_status status, const gradin_error *error);
/* Text to stdout. EXIT_MACHINE with a line on stderr when it does not take it. */
int print_out(const char *text);
/* Makes the folder of the results, or finds it there; an exit status with a line on stderr. */
int make_folder(const char *path);
/* One line on stderr: "gradin: ...". */
void say(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif
