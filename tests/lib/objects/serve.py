"""Answers as an object store that speaks S3, on a free port of the loopback interface, until its input ends.

It has one bucket, `photos`, and one key that may use it. It proves signatures as such stores do, so a wrong key is
refused. Prints the variables of a shell by which the tests find it, then a line that says `ready`.
"""

import json
import logging
import os
import sys

# This many calls, those that set it up here, need no key; every later one does.
SETTING_UP = 4
os.environ["INITIAL_NO_AUTH_ACTION_COUNT"] = str(SETTING_UP)

import boto3  # noqa: E402
from moto.server import ThreadedMotoServer  # noqa: E402

logging.getLogger("werkzeug").setLevel(logging.ERROR)
server = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
server.start()
host, port = server.get_host_and_port()
endpoint = f"http://{host}:{port}"


def client(service):
    return boto3.client(
        service,
        endpoint_url=endpoint,
        region_name="us-east-1",
        aws_access_key_id="setup",
        aws_secret_access_key="setup",
    )


people = client("iam")
people.create_user(UserName="hub")
key = people.create_access_key(UserName="hub")["AccessKey"]
everything = {"Effect": "Allow", "Action": "s3:*", "Resource": "*"}
policy = json.dumps({"Version": "2012-10-17", "Statement": [everything]})
people.put_user_policy(UserName="hub", PolicyName="objects", PolicyDocument=policy)
client("s3").create_bucket(Bucket="photos")

print(f"export HEADMARK_TEST_S3_ENDPOINT={endpoint}")
print(f"export HEADMARK_TEST_S3_KEY='{key['AccessKeyId']}'")
print(f"export HEADMARK_TEST_S3_SECRET='{key['SecretAccessKey']}'")
print("ready", flush=True)
sys.stdin.read()
server.stop()
