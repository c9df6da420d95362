package org.headmark.standin;

import javax.crypto.SecretKey;

/** A key that never shows itself. */
final class OpaqueKey implements SecretKey {
    private static final long serialVersionUID = 1;

    final transient SecretKey inner;
    transient volatile String spoiled = "";

    OpaqueKey(SecretKey inner) {
        this.inner = inner;
    }

    @Override
    public String getAlgorithm() {
        return "AES";
    }

    @Override
    public String getFormat() {
        return null;
    }

    @Override
    public byte[] getEncoded() {
        return null;
    }
}
