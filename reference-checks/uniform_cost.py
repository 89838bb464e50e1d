"""The least cost of a PDDL task by uniform-cost search (Dijkstra 1959), with a reader of its own.

Shares nothing with any planner: the text is read here, actions are instantiated here, a state is a whole number with a
bit for every atom. Understands what the tasks use: typing with one type, negation, disjunction, conditional effects,
action costs. Of an action's effects, those that delete go first (Fox and Long 2003).
"""

import heapq
import itertools
import pathlib
import re
import time


def parse(text):
    """A nested list of words."""
    stack = [[]]
    for word in re.findall(r"[()]|[^\s()]+", re.sub(r";[^\n]*", "", text.lower())):
        if word == "(":
            stack.append([])
        elif word == ")":
            done = stack.pop()
            stack[-1].append(done)
        else:
            stack[-1].append(word)
    (whole,) = stack
    (first,) = whole
    return first


def section(tree, name):
    return [part[1:] for part in tree if isinstance(part, list) and part and part[0] == name]


def names_of(typed):
    """Names of a typed list. One type at most is used, so every object fits every parameter."""
    return [w for i, w in enumerate(typed) if w != "-" and (i == 0 or typed[i - 1] != "-")]


class Task:
    """A task, read and instantiated into one Python function that lists the next states."""

    def __init__(self, domain, problem):
        self.bits = {}
        self.objects = [name for part in section(problem, ":objects") for name in names_of(part)]
        actions = [self.fields(action) for action in section(domain, ":action")]
        self.changing = {atom[0] for action in actions for atom in self.changed(action[":effect"])}
        (init,) = section(problem, ":init")
        true = [tuple(atom) for atom in init if atom[0] != "="]
        self.always = {atom for atom in true if atom[0] not in self.changing}
        (goal,) = section(problem, ":goal")
        lines = ["def next_states(s):"]
        for action in actions:
            lines += self.action(action)
        lines += ["    return", "    yield", "def at_goal(s):", f"    return {self.condition(goal[0], {})}"]
        self.start = sum(self.bit(atom) for atom in true if atom[0] in self.changing)
        made = {}
        exec("\n".join(lines), made)
        self.next_states, self.at_goal = made["next_states"], made["at_goal"]

    @staticmethod
    def fields(action):
        return dict(zip(action[1::2], action[2::2]))

    def changed(self, effect):
        match effect[0]:
            case "and":
                return [atom for part in effect[1:] for atom in self.changed(part)]
            case "when":
                return self.changed(effect[2])
            case "not":
                return [effect[1]]
            case "increase":
                return []
            case _:
                return [effect]

    def bit(self, atom):
        return 1 << self.bits.setdefault(atom, len(self.bits))

    def condition(self, tree, binding):
        """An expression of Python that is true when the condition holds in the state `s`."""
        match tree[0]:
            case "and" | "or":
                parts = [self.condition(part, binding) for part in tree[1:]]
                neutral, deciding = ("True", "False") if tree[0] == "and" else ("False", "True")
                if deciding in parts:
                    return deciding
                parts = [part for part in parts if part != neutral]
                return "(" + f" {tree[0]} ".join(parts) + ")" if parts else neutral
            case "not":
                inner = self.condition(tree[1], binding)
                return {"True": "False", "False": "True"}.get(inner, f"(not {inner})")
            case _:
                atom = tuple(binding.get(word, word) for word in tree)
                if atom[0] in self.changing:
                    return f"(s & {self.bit(atom)} != 0)"
                return str(atom in self.always)

    def action(self, action):
        parameters = names_of(action.get(":parameters", []))
        whole = action[":precondition"]
        parts = whole[1:] if whole[0] == "and" else [whole]
        mentions = lambda tree: any(mentions(t) if isinstance(t, list) else t in parameters for t in tree)
        fixed = self.condition(["and", *(part for part in parts if not mentions(part))], {})
        open_parts = ["and", *(part for part in parts if mentions(part))]
        lines = []
        for objects in itertools.product(self.objects, repeat=len(parameters)):
            binding = dict(zip(parameters, objects))
            holds = self.condition(open_parts, binding)
            if holds != "False":
                lines += [f"        if {holds}:"] + self.effects(action[":effect"], binding)
        return [f"    if {fixed}:", *lines] if lines and fixed != "False" else []

    def effects(self, tree, binding):
        adds, deletes, sometimes, cost = 0, 0, [], 0
        for effect in tree[1:] if tree[0] == "and" else [tree]:
            match effect[0]:
                case "increase":
                    cost += int(effect[2])
                case "when":
                    when = self.condition(effect[1], binding)
                    delete = effect[2][0] == "not"
                    bit = self.bit(tuple(binding.get(w, w) for w in (effect[2][1] if delete else effect[2])))
                    sometimes.append((when, delete, bit))
                case "not":
                    deletes |= self.bit(tuple(binding.get(w, w) for w in effect[1]))
                case _:
                    adds |= self.bit(tuple(binding.get(w, w) for w in effect))
        lines = [f"            t = s & ~{deletes}"]
        lines += [f"            if {when}: t &= ~{bit}" for when, delete, bit in sometimes if delete]
        lines += [f"            t |= {adds}"]
        lines += [f"            if {when}: t |= {bit}" for when, delete, bit in sometimes if not delete]
        return [*lines, f"            yield t, {cost}"]


def read(folder: pathlib.Path) -> Task:
    domain, problem = ((folder / name).read_text(encoding="utf-8") for name in ("domain.pddl", "problem.pddl"))
    return Task(parse(domain), parse(problem))


def least_cost(folder: pathlib.Path, seconds: float):
    """The least cost, "none" when there is no plan, or None when time ran out."""
    until = time.monotonic() + seconds
    task = read(folder)
    best = {task.start: 0}
    waiting = [(0, task.start)]
    seen = 0
    while waiting:
        cost, state = heapq.heappop(waiting)
        if cost > best[state]:
            continue
        if task.at_goal(state):
            return cost
        for after, more in task.next_states(state):
            total = cost + more
            if total < best.get(after, total + 1):
                best[after] = total
                heapq.heappush(waiting, (total, after))
        seen += 1
        if seen % 256 == 0 and time.monotonic() > until:
            return None
    return "none"
