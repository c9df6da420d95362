package org.headmark.standin;

import android.security.keystore.KeyGenParameterSpec;
import android.security.keystore.StrongBoxUnavailableException;
import java.security.InvalidAlgorithmParameterException;
import java.security.ProviderException;
import java.security.SecureRandom;
import java.security.spec.AlgorithmParameterSpec;
import javax.crypto.KeyGeneratorSpi;
import javax.crypto.SecretKey;
import javax.crypto.spec.SecretKeySpec;

/** Makes a key in the place of the one that its alias has. */
public final class OpaqueGenerator extends KeyGeneratorSpi {
    private KeyGenParameterSpec spec;

    @Override
    protected void engineInit(SecureRandom random) {
        throw new UnsupportedOperationException();
    }

    @Override
    protected void engineInit(int bits, SecureRandom random) {
        throw new UnsupportedOperationException();
    }

    @Override
    protected void engineInit(AlgorithmParameterSpec parameters, SecureRandom random)
            throws InvalidAlgorithmParameterException {
        if (!(parameters instanceof KeyGenParameterSpec)) {
            throw new InvalidAlgorithmParameterException("not a specification of this key store");
        }
        spec = (KeyGenParameterSpec) parameters;
    }

    @Override
    protected SecretKey engineGenerateKey() {
        if (spec.strongBox() && StandIn.is(spec.alias(), "no chip")) {
            throw new StrongBoxUnavailableException("there is no such chip");
        }
        if (StandIn.is(spec.alias(), "no key")) {
            throw new ProviderException("no key today", new IllegalStateException("the store is full"));
        }
        byte[] bytes = new byte[32];
        new SecureRandom().nextBytes(bytes);
        OpaqueKey key = new OpaqueKey(new SecretKeySpec(bytes, "AES"));
        StandIn.KEYS.put(spec.alias(), key);
        StandIn.note(spec.alias(), spec.told());
        return key;
    }
}
