"""Nothing she writes is lost: drafts, reloading, two windows, a file changed elsewhere, earlier versions."""

from bench_page import HAT, go_to, settled, turn_to, until, words, write_anew

OTHER = HAT.replace("Rnd 2: Knit.", "Rnd 2: Purl.")


def save(page):
    page.get_by_role("button", name="Save").click()


def on_disk(bench, path):
    return (bench.folder / path).read_text(encoding="utf-8")


def test_saving_writes_the_file(window, bench):
    path = bench.write("kelp-hat", HAT)
    page = window(path)
    write_anew(page, OTHER)
    assert "Not yet saved" in page.locator(".state").inner_text()
    page.keyboard.press("Control+s")
    until(page, "() => document.querySelector('.state').textContent.startsWith('Saved')")
    assert on_disk(bench, path) == OTHER
    assert page.get_by_role("button", name="Save").is_disabled()


def test_a_reload_keeps_what_was_never_saved_and_the_place(window, bench):
    path = bench.write("kelp-hat", HAT)
    page = window(path)
    settled(page)
    page.get_by_role("combobox", name="size").select_option("large")
    write_anew(page, OTHER)
    until(page, "() => document.querySelector('.state').textContent.includes('a draft is kept')")
    page.reload()
    page.wait_for_selector(".notice")
    assert words(page) == OTHER
    assert on_disk(bench, path) == HAT
    until(page, "() => document.querySelector('select[name=size]')?.value === 'large'")
    page.get_by_role("button", name="Go back to the saved one").click()
    assert words(page) == HAT
    page.get_by_role("button", name="Undo").click()
    assert words(page) == OTHER


def test_leaving_at_once_keeps_the_last_letters(window, bench):
    path = bench.write("kelp-hat", HAT)
    page = window(path)
    settled(page)
    write_anew(page, OTHER)
    page.reload()
    page.wait_for_selector(".cm-content")
    until(page, "() => document.querySelector('.cm-content').textContent.includes('Rnd 2: Purl.')")


def test_what_changes_elsewhere_comes_onto_a_sheet_that_is_saved(window, bench):
    path = bench.write("kelp-hat", HAT)
    page = window(path)
    settled(page)
    (bench.folder / path).write_text(OTHER, encoding="utf-8")
    page.wait_for_selector(".notice")
    assert "changed elsewhere" in page.locator(".notice").inner_text()
    assert words(page) == OTHER
    page.get_by_role("button", name="Undo").click()
    assert words(page) == HAT


def test_two_versions_that_do_not_clash_are_brought_together(window, bench):
    path = bench.write("kelp-hat", HAT)
    page = window(path)
    settled(page)
    write_anew(page, HAT.replace("# Kelp Hat", "# Kelp Hat, mine"))
    (bench.folder / path).write_text(OTHER, encoding="utf-8")
    save(page)
    page.wait_for_selector(".leaf-two h2")
    assert on_disk(bench, path) == OTHER
    page.get_by_role("button", name="Put together on my sheet").click()
    page.wait_for_selector(".cm-content")
    both = OTHER.replace("# Kelp Hat", "# Kelp Hat, mine")
    assert words(page) == both
    save(page)
    until(page, "() => document.querySelector('.state').textContent.startsWith('Saved')")
    assert on_disk(bench, path) == both


def test_where_two_versions_clash_she_chooses(window, bench, barriers):
    path = bench.write("kelp-hat", HAT)
    page = window(path)
    settled(page)
    write_anew(page, HAT.replace("Rnd 2: Knit.", "Rnd 2: Knit all."))
    (bench.folder / path).write_text(OTHER, encoding="utf-8")
    save(page)
    page.wait_for_selector(".clash")
    assert barriers(page) == []
    assert "Rnd 2: Knit all." in page.locator(".clash").inner_text()
    assert "Rnd 2: Purl." in page.locator(".clash").inner_text()
    page.get_by_label("Take the other").check()
    page.get_by_role("button", name="Put together on my sheet").click()
    page.wait_for_selector(".cm-content")
    assert words(page) == OTHER
    assert on_disk(bench, path) == OTHER


def test_two_windows_agree(window, bench):
    path = bench.write("kelp-hat", HAT)
    one = window(path)
    other = window(path, context=one.context)
    settled(one)
    settled(other)
    write_anew(one, OTHER)
    save(one)
    other.bring_to_front()
    other.wait_for_selector(".notice")
    assert words(other) == OTHER


def test_earlier_versions_are_walked_back_to(window, bench):
    path = bench.write("kelp-hat", HAT)
    page = window(path)
    settled(page)
    write_anew(page, OTHER)
    save(page)
    until(page, "() => document.querySelector('.state').textContent.startsWith('Saved')")
    turn_to(page, "Earlier versions")
    page.wait_for_selector(".shelf .to-words")
    page.locator(".shelf .to-words").last.click()
    page.wait_for_selector(".differing")
    assert page.locator(".differing ins").inner_text() == "Rnd 2: Knit."
    assert page.locator(".differing del").inner_text() == "Rnd 2: Purl."
    page.get_by_role("button", name="Put this version on the sheet").click()
    page.wait_for_selector(".cm-content")
    assert words(page) == HAT
    page.get_by_role("button", name="Undo").click()
    assert words(page) == OTHER


def test_while_the_bench_does_not_answer_the_words_stay(window, bench):
    page = window(bench.write("kelp-hat", HAT))
    settled(page)
    page.context.set_offline(True)
    go_to(page, "Rnd 2:")
    page.keyboard.press("End")
    page.keyboard.type(" Yes.", delay=10)
    page.wait_for_selector(".notice-fault")
    assert "does not answer" in page.locator(".notice-fault").inner_text()
    page.context.set_offline(False)
    page.keyboard.type("!")
    until(page, "() => document.querySelector('.notice-fault') === null")
    assert "Rnd 2: Knit. Yes.!" in words(page)
