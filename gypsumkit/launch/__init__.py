"""From a clone to a running course: the environment, the student's folder, the server, the checks.

Everything here needs nothing but Python itself, because it runs before anything is installed.
The exception is `inside`, whose programs are run by the environment's own Python.
"""
