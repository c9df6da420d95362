"""A bare TCP transfer: `bare.py take ADDRESS UP DOWN` at one end, `bare.py send ADDRESS UP DOWN` at the other.

The one that sends brings so many bytes up, and gets so many down once all are there. It prints the seconds, connecting
included.
"""

import socket
import sys
import time

PORT = 8444


def read(connection, count):
    while count > 0:
        came = connection.recv(65536)
        if not came:
            sys.exit("the other end closed early")
        count -= len(came)


def take(address, up, down):
    with socket.create_server((address, PORT)) as server:
        print("ready", flush=True)
        while True:
            connection, _ = server.accept()
            with connection:
                read(connection, up)
                connection.sendall(bytes(down))
                connection.recv(1)


def send(address, up, down):
    begun = time.monotonic()
    with socket.create_connection((address, PORT)) as connection:
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        connection.sendall(bytes(up))
        read(connection, down)
        print(f"{time.monotonic() - begun:.3f}")


what, address, up, down = sys.argv[1:]
{"take": take, "send": send}[what](address, int(up), int(down))
