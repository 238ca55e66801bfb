"""`setwell kit`."""

from pypdf import PdfReader


def test_text_lists_bags_and_what_the_cook_adds(run):
    result = run("kit", "cream.txt", "--kits", "12")
    assert result.exit_code == 0, result.stderr
    assert "Bag A Base" in result.stdout
    assert "Kappa carrageenan" in result.stdout
    assert "The cook adds: 400 g Milk, whole 3.25%" in " ".join(result.stdout.split())
    assert "No lot is in use for Kappa carrageenan" in " ".join(result.stderr.split())


def test_a_pdf_is_written_once(run, folder):
    given = ("kit", "cream.txt", "--kits", "2", "--address", "https://kitchen.example/2/")
    assert run(*given, "--pdf", "kits.pdf").exit_code == 0
    assert "kitchen.example" in PdfReader(folder / "kits.pdf").pages[1].extract_text()
    again = run(*given, "--pdf", "kits.pdf")
    assert again.exit_code == 1
    assert "kits.pdf" in again.stderr


def test_what_cannot_be_packed_is_told(run):
    assert "501 kits" in run("kit", "cream.txt", "--kits", "501").stderr
    assert "does not begin with http" in run("kit", "cream.txt", "--address", "ftp://x").stderr
