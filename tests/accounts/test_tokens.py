from sheafwright.accounts.models import Token
from sheafwright.accounts.selectors import person_of_token
from sheafwright.accounts.services import token_end, token_make


def test_the_key_speaks_for_ann(ann):
    _, key = token_make(person=ann, label="weather station")
    assert person_of_token(key) == ann


def test_a_key_never_made_speaks_for_nobody(ann):
    _, key = token_make(person=ann, label="weather station")
    assert person_of_token(key[:-1]) is None


def test_the_key_itself_is_not_kept(ann):
    token, key = token_make(person=ann, label="weather station")
    kept = Token.objects.filter(pk=token.pk).values().get()
    assert key not in {str(value) for value in kept.values()}


def test_an_ended_key_speaks_for_nobody(ann):
    token, key = token_make(person=ann, label="weather station")
    token_end(token=token)
    assert person_of_token(key) is None


def test_a_key_of_one_who_has_gone_speaks_for_nobody(ann):
    _, key = token_make(person=ann, label="weather station")
    ann.is_active = False
    ann.save()
    assert person_of_token(key) is None
