"""Checks a value against the part of JSON Schema draft 2020-12 that reference/summary-schema.json
uses. A keyword that is not known here is an error, so that no rule is silently skipped."""

import re

KINDS = {
    "object": dict, "array": list, "string": str, "boolean": bool, "null": type(None),
}
SILENT = {"$schema", "$defs", "title", "description"}


def is_kind(value, name):
    if name == "number":
        return isinstance(value, (int, float)) and not isinstance(value, bool)
    if name == "integer":
        return isinstance(value, int) and not isinstance(value, bool)
    return isinstance(value, KINDS[name])


def check_type(value, rule, _):
    names = rule if isinstance(rule, list) else [rule]
    return None if any(is_kind(value, n) for n in names) else f"is no {' or '.join(names)}"


def check_bound(value, holds, text):
    return None if not is_kind(value, "number") or holds(value) else text


KEYWORDS = {
    "type": check_type,
    "const": lambda v, rule, _: None if v == rule else f"is not {rule!r}",
    "enum": lambda v, rule, _: None if v in rule else f"is not one of {rule}",
    "pattern": lambda v, rule, _: None if not isinstance(v, str) or re.search(rule, v)
    else f"does not match {rule}",
    "minimum": lambda v, rule, _: check_bound(v, lambda x: x >= rule, f"is below {rule}"),
    "maximum": lambda v, rule, _: check_bound(v, lambda x: x <= rule, f"is above {rule}"),
    "minItems": lambda v, rule, _: None if not isinstance(v, list) or len(v) >= rule
    else f"has fewer than {rule} items",
    "maxItems": lambda v, rule, _: None if not isinstance(v, list) or len(v) <= rule
    else f"has more than {rule} items",
    "required": lambda v, rule, _: None if not isinstance(v, dict) or all(k in v for k in rule)
    else f"lacks {[k for k in rule if k not in v]}",
    "additionalProperties": lambda v, rule, schema: None
    if rule or not isinstance(v, dict) or not set(v) - set(schema["properties"])
    else f"has unknown keys {sorted(set(v) - set(schema['properties']))}",
}


def breaches(value, schema, root, path="$"):
    """Yields one line for each rule that the value breaks."""
    for word, rule in schema.items():
        if word in SILENT:
            continue
        if word == "$ref":
            target = root
            for step in rule.removeprefix("#/").split("/"):
                target = target[step]
            yield from breaches(value, target, root, path)
        elif word == "anyOf":
            if all(list(breaches(value, part, root, path)) for part in rule):
                yield f"{path}: is none of {len(rule)} kinds"
        elif word == "properties":
            for key, part in rule.items():
                if isinstance(value, dict) and key in value:
                    yield from breaches(value[key], part, root, f"{path}.{key}")
        elif word == "items":
            for i, item in enumerate(value if isinstance(value, list) else []):
                yield from breaches(item, rule, root, f"{path}[{i}]")
        elif word in KEYWORDS:
            text = KEYWORDS[word](value, rule, schema)
            if text:
                yield f"{path}: {text}"
        else:
            yield f"{path}: the schema's keyword '{word}' is not known here"
