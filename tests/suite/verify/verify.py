"""Verifies an exported record with public libraries only: python verify.py FILE.headmark"""
import io, sys
from hashlib import sha256
import cbor2, cwt


def check(holds, what):
    sys.exit(f"NOT VERIFIED: {what}") if not holds else None


file = io.BytesIO(open(sys.argv[1], "rb").read())
size, key = len(file.getbuffer()), cbor2.load(file)
log = sha256(file.getbuffer()[: file.tell()]).digest()
cose, before, places = cwt.COSE.new(), None, []
signer = cwt.COSEKey.new({**key, 2: log})
while file.tell() < size:
    sign1, body = cbor2.load(file)
    payload = cose.decode(sign1, signer, external_aad=b"headmark/entry/1")
    head, protected = cbor2.loads(payload), cbor2.loads(cbor2.loads(sign1).value[0])
    place = head[3]
    check(protected == {1: -8, 3: "application/vnd.headmark.entry+cbor", 4: log}, f"protected header {place}")
    check(head[1] == 1 and head[2] == log, f"format or log at place {place}")
    check(head[7] == sha256(body).digest() and head[8] == len(body), f"body at place {place}")
    check((4 in head) == (place > 1) and (not before or before[0] < place), f"order at place {place}")
    check(not before or before[0] + 1 != place or head.get(4) == before[1], f"chain at place {place}")
    before = (place, sha256(payload).digest())
    places.append(place)
check(places, "there is no entry in it")
print(f"verified: log {log.hex()[:16]}, places {places}")
