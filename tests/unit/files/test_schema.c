/* The schema's reader and writer on small structs of their own. */
#include "files/schema/read.h"
#include "files/schema/write.h"

#include <criterion/criterion.h>
#include <limits.h>
#include <string.h>

typedef struct part {
    const node *at;
    const char *name;
    double length_m, rate_per_s;
    int count;
} part;

typedef struct shape {
    int kind;
    double radius_m, side_m;
} shape;

typedef struct thing {
    const char *name, *file, *clock, *owner;
    double height_m, thickness_m, stiffness_pa, speed_ms, area_m2;
    int number, colour;
    bool is_heavy;
    gradin_vec2 at_m;
    gradin_polygon outline;
    gradin_vec2 *path_m;
    int n_path;
    double travel_m[2], three[3], band[GRADIN_N_BAND];
    double depth_m, *depths_m;
    int n_depth;
    int *order, n_order;
    part inner, *apart, *list;
    int n_list;
    shape form;
} thing;

static const char *const colours[] = {"red", "green", "never", NULL};
static const char *const old_colours[] = {"", "", "no", NULL};
static const double threes[] = {0.95, 0.85, 2.0 / 3.0};

static const schema_key part_keys[] = {
    KEY_TEXT(part, name, "name", "what it is called", REQUIRED),
    KEY_LENGTH(part, length_m, "length", "how long it is", LIMITS(0.1, 10), PRESET(0.3)),
    KEY_NUMBER(part, rate_per_s, "move_s", "time from end to end", UNIT(S_TO_RATE),
               LIMITS(0, 3600)),
    KEY_INTEGER(part, count, "count", "how many", LIMITS(0, 20), .word = "most", .word_value = -1),
};
static const schema_table part_table = {
    .name = "part", TABLE_(part, part_keys), TABLE_AT(part), .is_line = true};

static const char *const shapes[] = {"round", "square", NULL};
static const schema_key round_keys[] = {
    KEY_CHOICE(shape, kind, "kind", shapes, "its form", REQUIRED),
    KEY_LENGTH(shape, radius_m, "radius", "from its middle", REQUIRED)};
static const schema_key square_keys[] = {
    KEY_CHOICE(shape, kind, "kind", shapes, "its form", REQUIRED),
    KEY_LENGTH(shape, side_m, "side", "of the square", REQUIRED)};
static const schema_table round_table = {
    .name = "round", TABLE_(shape, round_keys), .form_value = "round"};
static const schema_table square_table = {
    .name = "square", TABLE_(shape, square_keys), .form_value = "square"};
static const schema_table *const shape_forms[] = {&round_table, &square_table, NULL};
static const schema_table shape_table = {
    .name = "shape", .size = sizeof(shape), .form = shape_forms, .form_key = "kind"};

static const char *const formats[] = {"thing-1", NULL};
static const schema_key thing_keys[] = {
    KEY_HEAD(formats),
    KEY_TEXT(thing, name, "name", "what it is called", REQUIRED),
    KEY_FILE(thing, file, "file", "where more of it stands"),
    KEY_CLOCK(thing, clock, "start", "when it starts"),
    KEY_NAME(thing, owner, "owner", "person", "whose it is"),
    KEY_LENGTH(thing, height_m, "height", "above the floor", LIMITS(-1, 20), UNSTATED("not known")),
    KEY_NUMBER(thing, thickness_m, "thickness_mm", "of its wall", UNIT(MM), LIMITS(0.1, 500)),
    KEY_NUMBER(thing, stiffness_pa, "young_gpa", "Young's modulus", UNIT(GPA)),
    KEY_NUMBER(thing, speed_ms, "speed_ms", "how fast it moves", UNIT(M_S), PRESET(0.05)),
    KEY_NUMBER(thing, area_m2, "area", "of its top", UNIT(AREA)),
    KEY_INTEGER(thing, number, "number", "which it is", LIMITS(1, 99), PRESET(1)),
    KEY_CHOICE(thing, colour, "colour", colours, "its colour", .old_words = old_colours),
    KEY_FLAG(thing, is_heavy, "heavy", "does it need two people"),
    KEY_POINT(thing, at_m, "at", "where it stands", .old = "on"),
    KEY_POLYGON(thing, outline, "outline", "seen from above"),
    KEY_POINTS(thing, path_m, n_path, "path", "where it goes", UNIT(LENGTH), .n_least = 2),
    KEY_RANGE(thing, travel_m, "travel", "lowest and highest", UNIT(LENGTH), LIMITS(-30, 30)),
    KEY_ROW(thing, three, 3, "three", "from best to worst", LIMITS(0, 1), .preset_row = threes),
    KEY_SPECTRUM(thing, band, "absorption", "of its surface", LIMITS(0, 1), UNSTATED("none")),
    KEY_LENGTH(thing, depth_m, "depth", "of each row", UNSTATED("none")),
    KEY_NUMBERS(thing, depths_m, n_depth, "depth", "of each row", UNIT(LENGTH), ITEMS(1, 9, 0)),
    KEY_CHOICES(thing, order, n_order, "order", colours, "of its colours", ITEMS(1, 4, "colours"),
                .needs = "is no colour"),
    KEY_MAP(thing, inner, part, "inner", &part_table, "what is inside"),
    KEY_MAP_PTR(thing, apart, part, "apart", &part_table, "what stands beside it"),
    KEY_LIST(thing, list, n_list, part, "parts", &part_table, "what it is made of",
             .are_names_unique = true),
    KEY_MAP(thing, form, shape, "form", &shape_table, "how it looks"),
    KEY_REFUSED("wheels", "stands still; carts have wheels"),
};
static const schema_rule thing_rules[] = {
    {RULE_CLASH, {"file", "apart"}, "stands beside apart; one of them is enough", true},
    {RULE_NEEDS, {"start", "owner"}, "needs an owner", false}};
static const schema_table thing_table = {
    .name = "thing", TABLE_(thing, thing_keys), TABLE_RULES(thing_rules), .style = STYLE_BLOCK};
static const schema_file thing_file = {"thing-1", "thing", "a thing", &thing_table};

typedef struct reading {
    gradin_arena *arena;
    gradin_error error;
    reader r;
    thing t;
} reading;

static reading *read_text(const char *text) {
    gradin_arena *arena = gradin_arena_create();
    reading *made = gradin_arena_alloc(arena, 1, sizeof *made);
    static const char path[] = "t.yaml";
    made->arena = arena;
    made->r = (reader){.c = {.arena = arena, .error = &made->error},
                       .unit_m = 1.0,
                       .given_path = path,
                       .given = text};
    SCHEMA_READ_FILE(&made->r, path, &thing_file, &made->t);
    return made;
}

static void done(reading *made) {
    gradin_arena_destroy(made->arena);
}

#define HEAD "format: thing-1\nunits: m\nname: A\n"

static const char everything[] =
    "format: thing-1\nunits: ft\nname: \"on\"\nfile: a.csv\nstart: \"19:30\"\nowner: Ann Lee\n"
    "height: 3.3\nthickness_mm: 0.76\nyoung_gpa: 72\nspeed_ms: 0.07\narea: 120.7\nnumber: 3\n"
    "colour: green\nheavy: yes\nat: [1.1, -2]\noutline: [[0, 0], [1.3, 0], [0, 1.7]]\n"
    "path: [[0, 0], [0.1, 0.7]]\ntravel: [-2.4, 3.6]\nthree: [0.9, 0.8, 0.1]\n"
    "absorption: [0.15, 0.11, 0.1, 0.07, 0.06, 0.07]\ndepth: [2.9, 3.1]\norder: [red, never]\n"
    "inner: {name: i, length: 1, move_s: 7}\n"
    "parts:\n"
    "  - {name: a, count: most}\n"
    "  - {name: \"b, c\", length: 0.7, move_s: 90, count: 4}\n"
    "form: {kind: square, side: 2}\n";

Test(schema, every_kind_is_read) {
    reading *got = read_text(everything);
    const thing *t = &got->t;
    cr_assert_eq(got->error.n_diagnostic, 0, "%s", got->error.diagnostic[0].text);
    cr_assert_str_eq(t->name, "on");
    cr_assert_eq(t->height_m, 3.3 * GRADIN_FOOT_M);
    cr_assert_eq(t->thickness_m, 0.76 / 1000.0);
    cr_assert_eq(t->stiffness_pa, 72e9);
    cr_assert_eq(t->area_m2, 120.7 * GRADIN_FOOT_M * GRADIN_FOOT_M);
    cr_assert(t->colour == 1 && t->is_heavy && t->number == 3);
    cr_assert_eq(t->at_m.y, -2 * GRADIN_FOOT_M);
    cr_assert(t->outline.n_corner == 3 && t->n_path == 2 && t->n_depth == 2 && t->n_order == 2);
    cr_assert(isnan(t->depth_m) && t->order[1] == 2);
    cr_assert_eq(t->band[1], 0.15);
    cr_assert_eq(t->band[20], 0.07);
    cr_assert_eq(t->inner.rate_per_s, 1.0 / 7.0);
    cr_assert(t->inner.at && !t->apart && t->n_list == 2);
    cr_assert(t->list[0].count == -1 && t->list[0].length_m == 0.3 && t->list[1].count == 4);
    cr_assert(isinf(t->list[0].rate_per_s));
    cr_assert_eq(t->form.side_m, 2 * GRADIN_FOOT_M);
    done(got);
}

static const char *write_text(const reading *from, const char *unit_name, double unit_m) {
    schema_text out = {
        .arena = from->arena, .unit_m = unit_m, .unit_name = unit_name, .decimals = -1};
    SCHEMA_WRITE(&out, &thing_table, &from->t, 0);
    cr_assert(!out.has_failed);
    return out.bytes;
}

/* A key written is the key read, in the words and digits of the file it came from. */
Test(schema, what_was_read_is_written) {
    reading *got = read_text(everything);
    cr_assert_str_eq(write_text(got, "ft", GRADIN_FOOT_M), everything);
    done(got);
}

Test(schema, another_unit_reads_back_as_the_same_doubles) {
    reading *got = read_text(everything);
    reading *again = read_text(write_text(got, "m", 1.0));
    cr_assert_eq(again->error.n_diagnostic, 0);
    cr_assert_eq(again->t.height_m, got->t.height_m);
    cr_assert_eq(again->t.outline.corner_m[2].y, got->t.outline.corner_m[2].y);
    cr_assert_eq(again->t.area_m2, got->t.area_m2);
    cr_assert_eq(again->t.depths_m[1], got->t.depths_m[1]);
    done(again);
    done(got);
}

Test(schema, defaults_are_not_written) {
    reading *got = read_text(HEAD "number: 1\nthree: [0.95, 0.85, 0.66666666666666663]\n");
    cr_assert_eq(got->error.n_diagnostic, 0);
    cr_assert(isnan(got->t.height_m) && got->t.three[0] == 0.95 && got->t.inner.length_m == 0.3);
    cr_assert_str_eq(write_text(got, "m", 1.0), HEAD);
    done(got);
}

Test(schema, numbers_may_be_rounded) {
    gradin_arena *arena = gradin_arena_create();
    schema_text out = {.arena = arena, .unit_m = 1.0, .decimals = 4};
    part p = {.name = "-", .length_m = 0.1 + 0.2, .rate_per_s = INFINITY};
    SCHEMA_WRITE_ITEM(&out, &part_table, &p, 2);
    cr_assert_str_eq(out.bytes, "  - {name: \"-\", length: 0.3}\n");
    gradin_arena_destroy(arena);
}

static void expect(const char *text, const char *complaint) {
    reading *got = read_text(text);
    char line[1000] = "";
    if (got->error.n_diagnostic > 0)
        gradin_diagnostic_format(&got->error.diagnostic[0], line, sizeof line);
    cr_assert_str_eq(line, complaint, "%s\ninstead of\n%s", line, complaint);
    cr_assert_leq(got->error.n_diagnostic, 1, "%s", got->error.diagnostic[1].text);
    done(got);
}

Test(schema, complaints) {
    expect(HEAD "heigth: 1\n", "t.yaml:4:1: heigth: unknown key 'heigth'; did you mean 'height'?");
    expect("format: thing-1\nunits: m\nnamme: A\n",
           "t.yaml:3:1: namme: unknown key 'namme'; did you mean 'name'?");
    expect("format: thing-1\nunits: m\n", "t.yaml:1:1: name: is missing");
    expect(HEAD "height: 21\n", "t.yaml:4:9: height: is 21; allowed: -1 to 20");
    expect("format: thing-1\nunits: ft\nname: A\nheight: 99\n",
           "t.yaml:4:9: height: is 99; allowed: -3.2808 to 65.6168");
    expect(HEAD "thickness_mm: 501\n", "t.yaml:4:15: thickness_mm: is 501; allowed: 0.1 to 500");
    expect(HEAD "number: 1.5\n", "t.yaml:4:9: number: is 1.5; a whole number is needed");
    expect(HEAD "colour: grean\n",
           "t.yaml:4:9: colour: unknown value 'grean'; did you mean 'green'?");
    expect(HEAD "heavy: maybe\n", "t.yaml:4:8: heavy: is 'maybe'; allowed: yes, no");
    expect(HEAD "travel: [2, 1]\n",
           "t.yaml:4:9: travel: runs from more to less; write [least, most]");
    expect(HEAD "three: [1, 1]\n", "t.yaml:4:8: three: has 2 values; 3 are needed");
    expect(HEAD "absorption: [1, 1, 1, 1, 1, 1, 1]\n",
           "t.yaml:4:13: absorption: has 7 values; 6 octaves 125-4000 Hz or 21 thirds 50-5000 Hz "
           "are needed");
    expect(HEAD "order: [red, red, red, red, red]\n",
           "t.yaml:4:8: order: has 5 colours; 1 to 4 are allowed");
    expect(HEAD "order: [blue]\n", "t.yaml:4:9: order[1]: is no colour");
    expect(HEAD "file: [a]\n", "t.yaml:4:7: file: must be the name of a file");
    expect(HEAD "start: \"25:00\"\nowner: a\n",
           "t.yaml:4:8: start: must be a time of day, \"hh:mm\"");
    expect(HEAD "parts: [{name: a}, {name: a}]\n",
           "t.yaml:4:20: parts[2]: has the name 'a' of entry 1");
    expect(HEAD "parts: [{name: a, count: 21}]\n",
           "t.yaml:4:26: parts[1].count: must be a whole number up to 20, or 'most'");
    expect(HEAD "form: {kind: round, radius: 2, side: 1}\n",
           "t.yaml:4:32: form.side: unknown key 'side'; allowed: kind, radius");
}

Test(schema, rules_between_keys) {
    expect(HEAD "file: a\napart: {name: a}\n",
           "t.yaml:1:1: file: stands beside apart; one of them is enough");
    expect(HEAD "start: \"19:30\"\n", "t.yaml:1:1: needs an owner");
    expect(HEAD "wheels: 4\n", "t.yaml:1:1: stands still; carts have wheels");
    expect(HEAD "at: [0, 0]\non: [0, 0]\n",
           "t.yaml:1:1: on: is the old word for 'at', which stands here too");
}

Test(schema, an_old_word_is_read_with_one_note) {
    reading *got = read_text(HEAD "on: [3, 4]\ncolour: no\n");
    cr_assert_eq(got->error.n_diagnostic, 0);
    cr_assert(got->t.at_m.y == 4 && got->t.colour == 2);
    cr_assert_eq(got->r.c.n_note, 2);
    cr_assert_str_eq(got->r.c.note[1], "t.yaml: key 'on' is now 'at'; the old word is still read");
    done(got);
}

/* A map that is wrong in itself has no place that later checks could use; one with a wrong map
 * below it has. */
Test(schema, a_wrong_map_has_no_place) {
    reading *got = read_text(HEAD "parts: [{name: a, length: 99}, {name: b}]\n");
    cr_assert(got->t.n_list == 2 && !got->t.list[0].at && got->t.list[1].at);
    done(got);
}

Test(schema, a_struct_of_another_table_is_refused) {
    reading *got = read_text(everything);
    part wrong;
    cr_assert_not(SCHEMA_READ(&got->r, got->t.inner.at, &thing_table, &wrong));
    cr_assert_eq(got->r.c.failed, GRADIN_BAD_USE);
    done(got);
}

/* The conversion of NAN is undefined: one processor makes the least number of it, another 0, which
 * a choice takes for its first word. */
Test(schema, whole_numbers_that_nobody_states) {
    static const schema_key keys[] = {
        KEY_INTEGER(thing, number, "number", "which it is", LIMITS(1, 99), UNSTATED("none")),
        KEY_CHOICE(thing, colour, "colour", colours, "its colour", UNSTATED("none"))};
    static const schema_table table = {.name = "thing", TABLE_(thing, keys)};
    thing t;
    schema_set_presets(&table, &t);
    cr_expect_eq(t.number, INT_MIN);
    cr_expect_eq((int)t.colour, INT_MIN);
}
