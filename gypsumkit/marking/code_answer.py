"""Runs inside the empty room: the code of one answer, and prints its result as the last line.

The result is the value of the name `answer`, else of the last line where that is an expression; else the last line that
the code itself printed counts.
"""

import ast
import sys

sys.path[:] = [place for place in sys.path if place != sys.path[0]] + sys.argv[2:]


def main():
    """Run the code in the file that is named."""
    with open(sys.argv[1], encoding="utf-8") as file:
        tree = ast.parse(file.read(), "answer")
    last = tree.body[-1] if tree.body and isinstance(tree.body[-1], ast.Expr) else None
    names = {"__name__": "__main__"}
    if last:
        tree.body.pop()
    exec(compile(tree, "answer", "exec"), names)
    value = eval(compile(ast.Expression(last.value), "answer", "eval"), names) if last else None
    value = names.get("answer", value)
    if value is not None:
        print(f"\n{value}")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
