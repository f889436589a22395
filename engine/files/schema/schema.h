/* files/schema/schema.h: what a map of a file may hold, as data. One record a key: its word, kind,
 * unit, limits, default, meaning, and the member of a struct that takes it. The same tables read a
 * file (read.h), write one (write.h), and give the key reference and the JSON Schemas.
 *
 * The macros KEY_... below make a record; they check at compile time that the member has the type
 * that the kind fills. */
#ifndef GRADIN_FILES_SCHEMA_H
#define GRADIN_FILES_SCHEMA_H

#include "files/parse/node.h"
#include "gradin/acoustics/room.h"
#include "gradin/geometry.h"

typedef enum schema_kind {
    SCHEMA_NUMBER,   /* double */
    SCHEMA_INTEGER,  /* int; `word` stands for word_value */
    SCHEMA_TEXT,     /* const char *: one line of plain text */
    SCHEMA_NAME,     /* const char *: the name of something else; names says of what */
    SCHEMA_NAMES,    /* const char **, count */
    SCHEMA_FILE,     /* const char *: a file, seen from this one */
    SCHEMA_CLOCK,    /* const char *: a time of day, "hh:mm" */
    SCHEMA_FLAG,     /* bool: yes, no, true, false */
    SCHEMA_CHOICE,   /* int or enumeration: index into choice */
    SCHEMA_CHOICES,  /* int *, count */
    SCHEMA_POINT,    /* gradin_vec2 */
    SCHEMA_POLYGON,  /* gradin_polygon, simple */
    SCHEMA_POINTS,   /* gradin_vec2 *, count */
    SCHEMA_RANGE,    /* double[2], ascending */
    SCHEMA_ROW,      /* double[n_most] */
    SCHEMA_NUMBERS,  /* double *, count */
    SCHEMA_SPECTRUM, /* double[GRADIN_N_BAND]: 6 octaves or 21 thirds in the file; with takes_rated
                        also the 16 thirds that a rating takes, NAN in the others */
    SCHEMA_MAP,      /* a struct inside this one */
    SCHEMA_MAP_PTR,  /* a pointer to a struct; NULL when the key is absent */
    SCHEMA_LIST,     /* a pointer to structs, count */
    SCHEMA_FORMAT,   /* choice[0]; fills nothing */
    SCHEMA_UNITS     /* m or ft; fills nothing */
} schema_kind;

/* What of a spectrum may stand in a file. */
#define SPECTRUM_RATED_TEXT "6 octaves 125-4000 Hz, 16 thirds 100-3150 Hz or 21 thirds 50-5000 Hz"
#define SPECTRUM_TEXT "6 octaves 125-4000 Hz or 21 thirds 50-5000 Hz"

/* The unit in which a number stands in the file; units.c has what each becomes. */
typedef enum schema_unit {
    UNIT_NONE,
    UNIT_LENGTH, /* the file's own unit, m or ft -> m */
    UNIT_AREA,   /* its square -> m2 */
    UNIT_M2,
    UNIT_MM, /* -> m */
    UNIT_DEG,
    UNIT_DEG_S,
    UNIT_DEG_S2,
    UNIT_DB,
    UNIT_DBA,
    UNIT_HZ,
    UNIT_S,
    UNIT_S_TO_RATE, /* seconds from end to end -> 1/s; 0 -> infinite */
    UNIT_MINUTES,
    UNIT_HOURS,
    UNIT_M_S,
    UNIT_M_S2,
    UNIT_KG,
    UNIT_KG_M2, /* of a sheet 1 mm thick -> kg/m3 */
    UNIT_KG_M3,
    UNIT_KN,
    UNIT_KN_M2,
    UNIT_KW,
    UNIT_KPA,
    UNIT_MPA, /* -> Pa */
    UNIT_GPA, /* -> Pa */
    UNIT_PA_S_M,
    UNIT_PA_S_M2,
    UNIT_DEG_C,
    UNIT_PERCENT,
    UNIT_SHARE, /* 0 to 1 */
    UNIT_SEATS_PERSON_HOUR,
    UNIT_S_ROW,
    UNIT_M_PERSON_HOUR,
    UNIT_KG_PERSON_HOUR,
    UNIT_MM_PERSON,
    UNIT_MACHINE, /* that of the machine's position: a length, an angle or a share; kept as written
                   */
    N_UNIT
} schema_unit;

struct schema_table;

typedef struct schema_key {
    const char *key;
    const char *meaning; /* one line, no full stop at its end */
    schema_kind kind;
    schema_unit unit;
    bool is_required;
    double least, most; /* of each number: m for lengths, as written for all else; both 0: no limits
                         */
    double preset;      /* default, in the unit of the limits; NAN: nothing stated */
    const double *preset_row;  /* [n_most] SCHEMA_ROW whose defaults differ */
    const char *preset_note;   /* what holds instead where there is no default to print */
    int n_least, n_most;       /* items of a list; n_most 0: no limit */
    const char *noun;          /* of its items, plural; NULL: values */
    const char *const *choice; /* NULL-ended words */
    const char *names;         /* SCHEMA_NAME: of what */
    const char *word;          /* SCHEMA_INTEGER: a word in place of the number */
    int word_value;
    const char *needs;   /* replaces any complaint about the form of the value */
    const char *refused; /* the key is known, but says what has no place here: the complaint */
    bool is_refused_at_key;
    const char *old;                  /* former word of this key: read with a note */
    const char *const *old_words;     /* former words of choice[], "" for none: read with a note */
    bool takes_rated;                 /* SCHEMA_SPECTRUM: 16 thirds 100-3150 Hz, too */
    bool is_always_written;           /* also at its default */
    bool are_names_unique;            /* SCHEMA_LIST: of structs that begin with their name */
    const struct schema_table *below; /* of SCHEMA_MAP, SCHEMA_MAP_PTR, SCHEMA_LIST */
    size_t offset, count_offset;
} schema_key;

/* What the keys of one map have to do with each other. */
typedef enum schema_rule_kind {
    RULE_ONE_OF, /* exactly one of key[] */
    RULE_ANY_OF, /* at least one */
    RULE_NEEDS,  /* key[0] only beside key[1] */
    RULE_CLASH,  /* key[0] not beside key[1] */
    RULE_AS_MANY /* key[0] has as many items as key[1], where both are there */
} schema_rule_kind;

enum { MAX_RULE_KEY = 4 };

typedef struct schema_rule {
    schema_rule_kind kind;
    const char *key[MAX_RULE_KEY]; /* NULL-ended unless full */
    const char *text;              /* the complaint, where the map stands */
    bool is_at_key;                /* where key[0] stands */
} schema_rule;

/* How the writer lays a map out. */
typedef enum schema_style {
    STYLE_FLOW, /* {a: 1, b: 2} */
    STYLE_BLOCK /* a key a line */
} schema_style;

/* One map. A table with forms has no keys of its own: the form is the one whose key[decider] is
 * there, or whose form_value is the value of form_key (none: form[0]). All fill the same struct. */
typedef struct schema_table {
    const char *name; /* heading in the reference, unique */
    const char *meaning;
    size_t size; /* of the struct */
    const schema_key *key;
    int n_key;
    const schema_rule *rule;
    int n_rule;
    const struct schema_table *const *form; /* NULL-ended */
    const char *form_key, *form_value;
    int decider;           /* row of the key by which a form is told */
    const char *form_text; /* complaint when no form is there */
    /* Same keys as this table, of which only the first must be there: so in the maps below, too. */
    const struct schema_table *partial_of;
    /* What an entry with the key `kind` keeps to by itself; the kind that it names has the rest. */
    const struct schema_table *of_kind;
    schema_style style;
    bool is_line; /* a list of these has one line an item also where the list is short */
    /* A member `at` takes the map, as a node or as its place; NULL when it is wrong in itself. */
    bool has_node, has_place;
    size_t at_offset;
} schema_table;

/* A kind of file. */
typedef struct schema_file {
    const char *format, *kind, *meaning;
    const schema_table *root;
} schema_file;

/* Offset of a member, if it has the type that P points to. */
#define SCHEMA_OFFSET(T, member, P) (offsetof(T, member) * _Generic(&((T *)0)->member, P : 1))
/* A pointer to B that may be const. */
#define SCHEMA_PTR_OFFSET(T, member, B)                                                            \
    (offsetof(T, member) * _Generic(&((T *)0)->member, B * * : 1, const B ** : 1))
/* The same for an enumeration or an int. */
#define SCHEMA_INT_OFFSET(T, member)                                                               \
    (offsetof(T, member) * sizeof(char[sizeof(((T *)0)->member) == sizeof(int) ? 1 : -1]))

#define KEY_(word, kind_, at, ...)                                                                 \
    { .key = word, .kind = kind_, .offset = at, .meaning = __VA_ARGS__ }
#define KEY_NUMBER(T, m, word, ...)                                                                \
    KEY_(word, SCHEMA_NUMBER, SCHEMA_OFFSET(T, m, double *), __VA_ARGS__)
#define KEY_LENGTH(T, m, word, ...) KEY_NUMBER(T, m, word, __VA_ARGS__, .unit = UNIT_LENGTH)
#define KEY_INTEGER(T, m, word, ...)                                                               \
    KEY_(word, SCHEMA_INTEGER, SCHEMA_OFFSET(T, m, int *), __VA_ARGS__)
#define KEY_TEXT(T, m, word, ...)                                                                  \
    KEY_(word, SCHEMA_TEXT, SCHEMA_OFFSET(T, m, const char **), __VA_ARGS__)
#define KEY_NAME(T, m, word, what, ...)                                                            \
    KEY_(word, SCHEMA_NAME, SCHEMA_OFFSET(T, m, const char **), __VA_ARGS__, .names = what)
#define KEY_NAMES(T, m, n, word, what, ...)                                                        \
    KEY_(word, SCHEMA_NAMES, SCHEMA_OFFSET(T, m, const char ***), __VA_ARGS__, .names = what,      \
         .count_offset = SCHEMA_OFFSET(T, n, int *))
#define KEY_FILE(T, m, word, ...)                                                                  \
    KEY_(word, SCHEMA_FILE, SCHEMA_OFFSET(T, m, const char **), __VA_ARGS__)
#define KEY_CLOCK(T, m, word, ...)                                                                 \
    KEY_(word, SCHEMA_CLOCK, SCHEMA_OFFSET(T, m, const char **), __VA_ARGS__)
#define KEY_FLAG(T, m, word, ...) KEY_(word, SCHEMA_FLAG, SCHEMA_OFFSET(T, m, bool *), __VA_ARGS__)
#define KEY_CHOICE(T, m, word, words, ...)                                                         \
    KEY_(word, SCHEMA_CHOICE, SCHEMA_INT_OFFSET(T, m), __VA_ARGS__, .choice = words)
#define KEY_CHOICES(T, m, n, word, words, ...)                                                     \
    KEY_(word, SCHEMA_CHOICES, SCHEMA_OFFSET(T, m, int **), __VA_ARGS__, .choice = words,          \
         .count_offset = SCHEMA_OFFSET(T, n, int *))
#define KEY_POINT(T, m, word, ...)                                                                 \
    KEY_(word, SCHEMA_POINT, SCHEMA_OFFSET(T, m, gradin_vec2 *), __VA_ARGS__, .unit = UNIT_LENGTH)
#define KEY_POLYGON(T, m, word, ...)                                                               \
    KEY_(word, SCHEMA_POLYGON, SCHEMA_OFFSET(T, m, gradin_polygon *), __VA_ARGS__,                 \
         .unit = UNIT_LENGTH)
#define KEY_POINTS(T, m, n, word, ...)                                                             \
    KEY_(word, SCHEMA_POINTS, SCHEMA_PTR_OFFSET(T, m, gradin_vec2), __VA_ARGS__,                   \
         .count_offset = SCHEMA_OFFSET(T, n, int *))
#define KEY_RANGE(T, m, word, ...)                                                                 \
    KEY_(word, SCHEMA_RANGE, SCHEMA_OFFSET(T, m, double(*)[2]), __VA_ARGS__)
#define KEY_ROW(T, m, n, word, ...)                                                                \
    KEY_(word, SCHEMA_ROW, SCHEMA_OFFSET(T, m, double(*)[n]), __VA_ARGS__, .n_least = n,           \
         .n_most = n)
#define KEY_NUMBERS(T, m, n, word, ...)                                                            \
    KEY_(word, SCHEMA_NUMBERS, SCHEMA_OFFSET(T, m, double **), __VA_ARGS__,                        \
         .count_offset = SCHEMA_OFFSET(T, n, int *))
#define KEY_SPECTRUM(T, m, word, ...)                                                              \
    KEY_(word, SCHEMA_SPECTRUM, SCHEMA_OFFSET(T, m, double(*)[GRADIN_N_BAND]), __VA_ARGS__)
/* B is the struct of the table `sub`. */
#define KEY_MAP(T, m, B, word, sub, ...)                                                           \
    KEY_(word, SCHEMA_MAP, SCHEMA_OFFSET(T, m, B *), __VA_ARGS__, .below = sub)
#define KEY_MAP_PTR(T, m, B, word, sub, ...)                                                       \
    KEY_(word, SCHEMA_MAP_PTR, SCHEMA_OFFSET(T, m, B **), __VA_ARGS__, .below = sub)
#define KEY_LIST(T, m, n, B, word, sub, ...)                                                       \
    KEY_(word, SCHEMA_LIST, SCHEMA_OFFSET(T, m, B **), __VA_ARGS__, .below = sub,                  \
         .count_offset = SCHEMA_OFFSET(T, n, int *))
/* Known, but out of place in this map: the complaint, at the map or at the key. */
#define KEY_REFUSED(word, ...)                                                                     \
    { .key = word, .refused = __VA_ARGS__ }
#define KEY_HEAD(formats)                                                                          \
    {.key = "format",                                                                              \
     .kind = SCHEMA_FORMAT,                                                                        \
     .meaning = "kind and version of this file",                                                   \
     .is_required = true,                                                                          \
     .choice = formats},                                                                           \
    {                                                                                              \
        .key = "units", .kind = SCHEMA_UNITS, .is_required = true,                                 \
        .meaning = "unit of every length in this file"                                             \
    }

#define REQUIRED .is_required = true
#define UNIT(u) .unit = UNIT_##u
#define LIMITS(a, b) .least = a, .most = b
#define ITEMS(a, b, what) .n_least = a, .n_most = b, .noun = what
#define PRESET(x) .preset = x
#define UNSTATED(note) .preset = NAN, .preset_note = note

#define TABLE_(T, keys) .size = sizeof(T), .key = keys, .n_key = (int)(sizeof keys / sizeof *keys)
#define TABLE_RULES(rules) .rule = rules, .n_rule = (int)(sizeof rules / sizeof *rules)
/* T has a member `const node *at`, or `const gradin_place *at`. */
#define TABLE_AT(T) .has_node = true, .at_offset = SCHEMA_OFFSET(T, at, const node **)
#define TABLE_PLACE(T) .has_place = true, .at_offset = SCHEMA_OFFSET(T, at, const gradin_place **)

/* units.c. "m", "deg", ...; "" without. UNIT_LENGTH and UNIT_AREA give "m" and "m2". */
const char *schema_unit_name(schema_unit unit);
/* A number as written becomes what the library computes with, and the other way round. unit_m:
 * metres in one unit of length of the file. */
double schema_from_file(schema_unit unit, double unit_m, double written);
double schema_to_file(schema_unit unit, double unit_m, double value);
/* The key's default as the library computes with it. */
double schema_preset(const schema_key *key, int index);

/* Gives every member its default. */
void schema_set_presets(const schema_table *table, void *item);
bool schema_has_key(const schema_table *table, const char *word);
/* Rows of one key that follow each other are alternatives, told apart by the kind of node: the
 * first row after i that has another key. */
int schema_next_key(const schema_table *table, int i);

#endif
