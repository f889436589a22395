/* gradin glazing FILE [BUILDUP...]: build-ups of a venue, or the values of a CSV file, rated and
 * compared. Nothing is created before all computing has succeeded. */
#include "command.h"
#include "gradin/files.h"

#include <string.h>
#include <strings.h>

typedef struct glazing_options {
    const char *out_dir, *fit, *shade, *pane;
    int temperature_c, format; /* gradin_picture */
    bool is_in_place, is_json, is_quiet;
} glazing_options;

typedef struct result {
    char *text, *json;
    size_t json_size;
    unsigned char *plot;
    size_t plot_size;
} result;

static bool is_csv(const char *path) {
    size_t length = strlen(path);
    return length >= 4 && strcasecmp(path + length - 4, ".csv") == 0;
}

/* Fits, and puts the values into all build-ups. */
static gradin_status fit_to(gradin_arena *arena, const char *name, gradin_buildups *buildups,
                            gradin_glazing_fit *fit, gradin_error *error) {
    for (int i = 0; i < buildups->n_buildup; i++) {
        if (strcmp(buildups->buildup[i].name, name) != 0) continue;
        gradin_status status = gradin_glazing_fit_make(&buildups->buildup[i], fit, error);
        return status == GRADIN_OK ? gradin_glazing_fit_apply(arena, fit, buildups, error) : status;
    }
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "--fit: build-up '%s' is not among those compared", name);
}

enum { AS_STATED = -1000 }; /* temperature */

/* All build-ups at one temperature, into copies. */
static gradin_status set_temperature(const glazing_options *o, gradin_arena *arena,
                                     gradin_buildups *buildups, gradin_error *error) {
    if (o->temperature_c == AS_STATED) return GRADIN_OK;
    gradin_buildup *made = gradin_arena_alloc(arena, (size_t)buildups->n_buildup, sizeof *made);
    if (!made) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for glazing");
    for (int i = 0; i < buildups->n_buildup; i++) {
        made[i] = buildups->buildup[i];
        made[i].temperature_c = o->temperature_c;
    }
    buildups->buildup = made;
    return GRADIN_OK;
}

/* "1.25x1.5" */
static bool read_pane(const char *text, gradin_glazing_view *view) {
    char width[32];
    const char *cross = strchr(text, 'x');
    if (!cross || (size_t)(cross - text) >= sizeof width) return false;
    memcpy(width, text, (size_t)(cross - text));
    width[cross - text] = '\0';
    return gradin_parse_number(width, &view->width_m) &&
           gradin_parse_number(cross + 1, &view->height_m) && view->width_m >= 0.1 &&
           view->width_m <= 100.0 && view->height_m >= 0.1 && view->height_m <= 100.0;
}

static gradin_status find_view(const glazing_options *o, const char *file,
                               const gradin_buildups *buildups, gradin_glazing_view *view,
                               gradin_error *error) {
    *view = (gradin_glazing_view){.is_in_place = o->is_in_place};
    if (o->pane && !read_pane(o->pane, view))
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "--pane: '%s' is no size; write WIDTHxHEIGHT, each 0.1 to 100 m",
                                o->pane);
    for (int i = 0; o->shade && i < buildups->n_shade; i++)
        if (strcmp(buildups->shade[i].name, o->shade) == 0) view->shade = &buildups->shade[i];
    if (o->shade && !view->shade)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "--shade: %s has no shade '%s'",
                                file, o->shade);
    return GRADIN_OK;
}

static gradin_status compute(const glazing_options *o, const operands *given, gradin_arena *arena,
                             gradin_buildups *buildups, gradin_glazing_fit *fit,
                             gradin_glazing_sheet *sheet, gradin_error *error) {
    const char *file = given->text[0];
    gradin_status status = is_csv(file) ? gradin_curve_read(arena, file, buildups, error)
                                        : gradin_buildups_read(arena, file, given->text + 1,
                                                               given->n - 1, buildups, error);
    gradin_glazing_view view;
    if (status == GRADIN_OK) status = find_view(o, file, buildups, &view, error);
    if (status == GRADIN_OK) status = set_temperature(o, arena, buildups, error);
    if (status == GRADIN_OK && o->fit) status = fit_to(arena, o->fit, buildups, fit, error);
    if (status == GRADIN_OK) status = gradin_glazing_compare(arena, buildups, &view, sheet, error);
    if (status == GRADIN_OK && o->fit) sheet->fit = fit;
    return status;
}

static gradin_status make(const glazing_options *o, gradin_arena *arena,
                          const gradin_glazing_sheet *sheet, result *made, gradin_error *error) {
    gradin_status status = gradin_glazing_text(arena, sheet, &made->text, error);
    if (status == GRADIN_OK)
        status = gradin_glazing_json(arena, sheet, &made->json, &made->json_size, error);
    if (status == GRADIN_OK && o->out_dir)
        status = gradin_glazing_picture(arena, sheet, (gradin_picture)o->format, &made->plot,
                                        &made->plot_size, error);
    return status;
}

static int write_all(const glazing_options *o, gradin_arena *arena,
                     const gradin_glazing_sheet *sheet, const result *made, gradin_error *error) {
    int code = open_results(o->out_dir);
    if (code != EXIT_DONE) return code;
    const result_file plot = {picture_file(arena, "glazing", o->format), made->plot,
                              made->plot_size};
    gradin_status status = write_results(o->out_dir, &plot, 1, arena, error);
    if (status == GRADIN_OK) status = gradin_glazing_tables_write(sheet, o->out_dir, error);
    return report(status, error);
}

static int glazing_all(const glazing_options *o, const operands *given, gradin_arena *arena,
                       gradin_error *error) {
    gradin_buildups buildups;
    gradin_glazing_sheet sheet;
    gradin_glazing_fit fit;
    result made = {0};
    gradin_status status = compute(o, given, arena, &buildups, &fit, &sheet, error);
    if (status == GRADIN_OK) status = make(o, arena, &sheet, &made, error);
    if (status != GRADIN_OK) return report(status, error);
    int code = o->out_dir ? write_all(o, arena, &sheet, &made, error) : EXIT_DONE;
    if (code != EXIT_DONE) return code;
    for (int i = 0; i < buildups.n_note; i++) say("note: %s", buildups.note[i]);
    if (o->is_quiet && !o->is_json) return EXIT_DONE;
    return print_out(o->is_json ? made.json : made.text);
}

static int glazing(const void *options, const operands *given, gradin_arena *arena,
                   gradin_error *error) {
    const glazing_options *o = options;
    if (o->fit && o->temperature_c != AS_STATED)
        say("glazing: --fit finds one modulus for all temperatures; leave out --temperature");
    else if (given->n > 1 && is_csv(given->text[0]))
        say("glazing: %s has no build-ups to pick from", given->text[0]);
    else
        return glazing_all(o, given, arena, error);
    return EXIT_INPUT;
}

static const usage_form usages[] = {
    {.need = "a venue or a CSV file of band values is needed",
     .operand = {{"FILE", OPERAND_FILE, 1, 1}, {"BUILDUP", OPERAND_NAME, 0, ANY_NUMBER}}}};

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(glazing_options, out_dir),
     .meaning = "folder for a plot, glazing.csv and glazing.json, made when it is not there"},
    {.name = "--fit",
     .value = "BUILDUP",
     AS_TEXT(glazing_options, fit),
     .meaning = "find the loss factor of the glass and the modulus of the interlayer that bring "
                "this build-up nearest to its measurement, and use them for all"},
    {.name = "--temperature",
     .value = "C",
     AS_INTEGER(glazing_options, temperature_c),
     .unit = "\xC2\xB0"
             "C",
     .least = GRADIN_GLAZING_LEAST_C,
     .most = GRADIN_GLAZING_MOST_C,
     .preset = AS_STATED,
     .absent = "what the venue states",
     .meaning = "temperature of the interlayers"},
    {.name = "--shade",
     .value = "NAME",
     AS_TEXT(glazing_options, shade),
     .meaning = "with this shade of the venue shut"},
    {.name = "--pane",
     .value = "WxH",
     AS_TEXT(glazing_options, pane),
     .meaning = "panes of this width and height, each 0.1 to 100 m, not 1.25 by 1.5 m"},
    {.name = "--in-place",
     AS_FLAG(glazing_options, is_in_place),
     .meaning = "with the joint round a window in place, not as a sealed sample"},
    FORMAT_OPTION(glazing_options, format),
    JSON_OPTION(glazing_options, is_json),
    QUIET_OPTION(glazing_options, is_quiet)};

static const example_form examples[] = {
    {"gradin glazing hall.yaml 'sample pane'", "one build-up of a venue"},
    {"gradin glazing door.csv", "the ratings of a measured curve (columns band_hz,r_db)"}};

const verb_form glazing_verb = {
    .name = "glazing",
    .summary = "rate and compare glazing build-ups",
    .description =
        "Prints the sound reduction index R by third octave, Rw with its adaptation terms, STC "
        "and OITC of a venue's build-ups (all, or those named), predicted from their layers and "
        "measured where a measurement is stated. A CSV file of band values is rated as it "
        "stands.\n\n"
        "A prediction is of a tight pane without leaks. A measurement is better.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(glazing_options),
    .run = glazing};
