import pytest
from django.contrib.auth import get_user

from sheafwright.accounts.models import Holding, Membership, Person

PASSWORD = "three wet harvests"
FIRST = {
    "person_name": "Ann",
    "email": "ann@example.org",
    "password": PASSWORD,
    "units": "imperial",
    "name": "Marl Hollow",
    "time_zone": "Europe/London",
    "currency": "GBP",
}


@pytest.fixture
def anns_password(ann):
    ann.set_password(PASSWORD)
    ann.save()


def sign_in(client, password=PASSWORD, email="ann@example.org", **more):
    return client.post("/sign-in/", {"username": email, "password": password}, **more)


def test_an_empty_installation_leads_to_its_first_start(db, client):
    assert client.get("/", follow=True).redirect_chain == [("/start/", 302)]


def test_whoever_starts_it_owns_the_first_holding_and_is_signed_in(db, client):
    client.post("/start/", FIRST)
    membership = Membership.objects.get()
    assert (membership.role, membership.holding.slug) == ("owner", "marl-hollow")
    assert get_user(client) == membership.person
    assert membership.person.units == "imperial"


def test_after_the_first_start_there_is_no_other(ann, client):
    assert client.get("/start/").status_code == 404
    assert client.post("/start/", FIRST).status_code == 404
    assert Person.objects.count() == 1


def test_the_first_start_is_for_the_machine_itself_only(db, client):
    refused = client.post("/start/", FIRST, REMOTE_ADDR="192.168.1.20")
    assert refused.status_code == 403
    assert "serves the book, at http://127.0.0.1:80/start/" in refused.text
    assert not Person.objects.exists()


@pytest.mark.parametrize(
    ("password", "says"),
    [
        ("rick", "too short"),
        ("1234567890", "too common"),
        ("84629105736291", "entirely numeric"),
        ("ann@example.org", "too similar"),
    ],
)
def test_a_weak_password_is_refused_and_what_was_typed_is_kept(
    db, client, password, says
):
    again = client.post("/start/", FIRST | {"password": password})
    assert says in again.text
    assert 'value="Marl Hollow"' in again.text
    assert not Person.objects.exists()
    assert not Holding.objects.exists()


def test_ann_signs_in_however_she_writes_her_address(anns_password, client, ann):
    sign_in(client, email="Ann@Example.org")
    assert get_user(client) == ann


def test_a_wrong_password_is_one_sentence_that_tells_nothing(anns_password, client):
    wrong = sign_in(client, "three dry harvests").text
    nobody = sign_in(client, email="dan@example.org").text
    assert "don&#x27;t go together" in wrong
    assert "don&#x27;t go together" in nobody


def test_after_five_wrong_tries_even_the_right_password_waits(anns_password, client):
    for _ in range(5):
        last = sign_in(client, "guess")
    assert last.status_code == 429
    locked = sign_in(client)
    assert (locked.status_code, get_user(client).is_authenticated) == (429, False)
    assert "wait a quarter of an hour" in locked.text


def test_writing_the_address_otherwise_gives_no_more_tries(anns_password, client):
    for email in ("ann@example.org", "ANN@example.org", " Ann@example.org") * 2:
        last = sign_in(client, "guess", email=email)
    assert last.status_code == 429


def test_a_guesser_elsewhere_does_not_lock_ann_out(anns_password, client, ann):
    for _ in range(6):
        sign_in(client, "guess", REMOTE_ADDR="192.168.1.66")
    sign_in(client)
    assert get_user(client) == ann


def test_signing_in_leads_back_to_the_page_that_was_asked_for(anns_password, client):
    there = client.get("/marl-hollow/today/")
    assert there.url == "/sign-in/?next=/marl-hollow/today/"
    back = client.post(there.url, {"username": "ann@example.org", "password": PASSWORD})
    assert back.url == "/marl-hollow/today/"


def test_signing_in_leads_to_no_other_site(anns_password, client):
    said = {"username": "ann@example.org", "password": PASSWORD}
    assert client.post("/sign-in/?next=https://example.com/", said).url == "/"


def test_signing_out_takes_a_press_of_a_button(client, ann):
    client.force_login(ann)
    assert client.get("/sign-out/").status_code == 405
    client.post("/sign-out/")
    assert not get_user(client).is_authenticated


def test_one_holding_is_opened_at_once(client, ann):
    client.force_login(ann)
    assert client.get("/").url == "/marl-hollow/today/"


def test_cleo_without_a_holding_may_start_one(client, cleo):
    client.force_login(cleo)
    assert "no holding here yet" in client.get("/").text
    client.post(
        "/holdings/new/", {k: FIRST[k] for k in ("name", "time_zone", "currency")}
    )
    assert Membership.objects.get(person=cleo).role == "owner"


def test_of_two_holdings_ann_is_asked_which(client, ann, other_holding):
    Membership.objects.create(person=ann, holding=other_holding, role="adviser")
    client.force_login(ann)
    page = client.get("/").text
    assert "Marl Hollow" in page
    assert "Far Edge" in page
