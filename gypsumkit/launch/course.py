"""Where the parts of a clone of the course lie."""

from dataclasses import dataclass
from pathlib import Path

from gypsumkit.problems import Problem

FIRST_LESSON = "00_start_here.ipynb"


@dataclass(frozen=True)
class Course:
    """One clone of the course, known by its folder."""

    folder: Path

    @property
    def requirements(self):
        """The file that names the packages a running course needs."""
        return self.folder / "requirements.txt"

    @property
    def test_requirements(self):
        """The file that names what only the tests need."""
        return self.folder / "tests" / "requirements.txt"

    @property
    def project_file(self):
        """The file that describes the library to Python's installers."""
        return self.folder / "gypsumkit" / "pyproject.toml"

    @property
    def lessons(self):
        """The folder of the lessons as they are shipped."""
        return self.folder / "lessons"

    @property
    def config(self):
        """The folder of JupyterLab's settings as they are shipped."""
        return self.folder / "gypsumkit" / "launch" / "config"

    @property
    def dot_folder(self):
        """The one folder of the clone that the commands write into; git does not see it."""
        return self.folder / ".environment"


def this_course():
    """Return the clone that this very file belongs to.

    Returns
    -------
    Course

    Raises
    ------
    Problem
        When the library was installed on its own, without the course around it.
    """
    course = Course(Path(__file__).resolve().parents[2])
    if not course.requirements.is_file():
        raise Problem("There is no requirements.txt in {}: this command works only from a clone of the course, "
                      "started in its top folder.".format(course.folder))
    return course
