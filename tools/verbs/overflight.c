/* gradin overflight LAYOUT --traffic FILE: a season of traffic at every seat. Nothing is created
 * before all computing has succeeded. */
#include "command.h"

#include "gradin/files.h"
#include "gradin/studies/season_plot.h"
#include "gradin/studies/season_write.h"
#include "progress.h"

#include <omp.h>

typedef struct overflight_options {
    const char *traffic, *out_dir, *brief, *cache, *bands;
    option_texts seat;    /* of the plot of level against time */
    int n_thread, format; /* n_thread 0: all cores */
    bool is_skipping, is_without_maps, is_json, is_quiet, has_histories;
} overflight_options;

typedef struct pictures {
    unsigned char *trace, *starts; /* starts NULL without a limit */
    size_t trace_size, starts_size;
} pictures;

/* The room is one step, so it is told at once. */
static void tell_flights_or_room(void *user, int done, int total) {
    if (total > 0)
        progress_count(user, done, total);
    else
        progress_long_step("room");
}

static void tell_skipped(const gradin_error *skipped, int n) {
    char line[GRADIN_FILE_CHARS + GRADIN_KEY_CHARS + GRADIN_TEXT_CHARS];
    for (int i = 0; i < skipped->n_diagnostic; i++) {
        gradin_diagnostic_format(&skipped->diagnostic[i], line, sizeof line);
        say("skipped: %s", line);
    }
    if (n > skipped->n_diagnostic) say("skipped: and %d more rows", n - skipped->n_diagnostic);
}

static gradin_status compute(const overflight_options *o, const char *file,
                             gradin_band_choice *band, gradin_arena *arena, gradin_model *model,
                             gradin_traffic *traffic, gradin_season *season, gradin_error *skipped,
                             gradin_error *error) {
    gradin_season_options how = {.progress = tell_flights_or_room,
                                 .progress_user = progress_flights,
                                 .trace_id = o->seat.text,
                                 .n_trace = o->seat.n,
                                 .room_cache = o->cache};
    gradin_status status = gradin_model_read(arena, file, model, error);
    if (status == GRADIN_OK && o->brief) status = gradin_brief_read(arena, o->brief, model, error);
    if (status == GRADIN_OK)
        status = gradin_traffic_read(arena, o->traffic, o->is_skipping, traffic, skipped, error);
    if (status == GRADIN_OK)
        status = gradin_season_compute(arena, model, traffic, &how, season, error);
    if (status == GRADIN_OK && o->bands) status = gradin_season_bands(arena, season, band, error);
    if (status == GRADIN_OK && o->has_histories)
        status = gradin_season_histories(arena, season, error);
    return status;
}

static gradin_status draw(gradin_picture format, gradin_arena *arena, const gradin_season *season,
                          pictures *p, gradin_error *error) {
    gradin_status status =
        gradin_season_trace_picture(arena, season, format, &p->trace, &p->trace_size, error);
    if (status != GRADIN_OK || season->limit_dba != season->limit_dba) return status;
    return gradin_season_starts_picture(arena, season, format, &p->starts, &p->starts_size, error);
}

static int write_all(const overflight_options *o, gradin_arena *arena, const gradin_season *season,
                     gradin_error *error) {
    pictures p = {0};
    gradin_status status = draw((gradin_picture)o->format, arena, season, &p, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = open_results(o->out_dir);
    if (result != EXIT_DONE) return result;
    const result_file file[] = {
        {picture_file(arena, "level-time", o->format), p.trace, p.trace_size},
        {picture_file(arena, "start-times", o->format), p.starts, p.starts_size}};
    status = gradin_season_tables_write(season, o->out_dir, error);
    if (status == GRADIN_OK) status = write_results(o->out_dir, file, 2, arena, error);
    if (status == GRADIN_OK && !o->is_without_maps)
        status =
            gradin_season_maps_write(season, (gradin_picture)o->format, o->out_dir, NULL, error);
    return report(status, error);
}

static int print_result(const overflight_options *o, gradin_arena *arena,
                        const gradin_season *season, gradin_error *error) {
    char *text = NULL;
    size_t size = 0;
    if (o->is_quiet && !o->is_json) return EXIT_DONE;
    gradin_status status = o->is_json ? gradin_season_json(arena, season, &text, &size, error)
                                      : gradin_season_text(arena, season, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static int print_maps_left_out(const overflight_options *o, gradin_arena *arena,
                               const gradin_season *season, gradin_error *error) {
    char *text = "";
    if (!o->out_dir || o->is_without_maps || o->is_quiet || o->is_json) return EXIT_DONE;
    gradin_status status = gradin_season_maps_left_out(arena, season, &text, error);
    if (status != GRADIN_OK) return report(status, error);
    return print_left_out(text);
}

static int overflight_one(const overflight_options *o, const char *file, gradin_band_choice *band,
                          gradin_arena *arena, gradin_error *error) {
    gradin_model model;
    gradin_traffic traffic;
    gradin_season season;
    gradin_error *skipped = gradin_arena_alloc(arena, 1, sizeof *skipped);
    if (!skipped) return report(GRADIN_NO_MEMORY, error);
    if (o->n_thread > 0) omp_set_num_threads(o->n_thread);
    gradin_status status = compute(o, file, band, arena, &model, &traffic, &season, skipped, error);
    if (status != GRADIN_OK) return report(status, error);
    const char *cache_note = season.room.cache_note;
    if (cache_note[0] != '\0') say("note: %s", cache_note);
    tell_skipped(skipped, traffic.n_skipped);
    int result = o->out_dir ? write_all(o, arena, &season, error) : EXIT_DONE;
    if (result == EXIT_DONE) result = print_result(o, arena, &season, error);
    return result == EXIT_DONE ? print_maps_left_out(o, arena, &season, error) : result;
}

static int overflight(const void *options, const operands *given, gradin_arena *arena,
                      gradin_error *error) {
    const overflight_options *o = options;
    gradin_band_choice band;
    if (!parse_bands("overflight", o->bands, &band)) return EXIT_INPUT;
    return overflight_one(o, given->text[0], &band, arena, error);
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--traffic",
     .value = "FILE",
     AS_FILE(overflight_options, traffic),
     .is_required = true,
     .meaning = "the season: classes, tracks, the performance and the events"},
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(overflight_options, out_dir),
     .meaning = "folder for season-seats.csv, flights.csv, season.json, plots and maps, made when "
                "it is not there"},
    {.name = "--seat",
     .value = "SEAT",
     AS_TEXTS(overflight_options, seat),
     .most_times = GRADIN_MAX_TRACE,
     .absent = "the loudest, the median and the quietest",
     .meaning = "draw the level at this seat against time"},
    {.name = "--level-time",
     AS_FLAG(overflight_options, has_histories),
     .meaning = "write level-time.csv, too: levels of every class on every track at those seats "
                "against time, A-weighted and by band"},
    {.name = "--skip-bad",
     AS_FLAG(overflight_options, is_skipping),
     .meaning = "leave out bad rows of the events and name them"},
    BRIEF_OPTION(overflight_options, brief),
    BANDS_OPTION(overflight_options, bands),
    FORMAT_OPTION(overflight_options, format),
    NO_MAPS_OPTION(overflight_options, is_without_maps),
    CACHE_OPTION(overflight_options, cache),
    THREADS_OPTION(overflight_options, n_thread),
    JSON_OPTION(overflight_options, is_json),
    QUIET_OPTION(overflight_options, is_quiet)};

static const example_form examples[] = {
    {"gradin overflight thrust.yaml --traffic season.yaml --out season",
     "tables, plots and maps of a season"}};

const verb_form overflight_verb = {
    .name = "overflight",
    .summary = "work out a season of traffic at every seat",
    .description =
        "Prints for every class of source on every track how loud it is outside and at the seats, "
        "how many events of a performance exceed the limit and which start times are quietest, "
        "which seats hear most, and through which part of the facade. With --out it writes one "
        "line per seat, one per class and track, plots and maps.\n\n"
        "Levels are predictions with a standard uncertainty, which is stated beside them.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(overflight_options),
    .run = overflight};
