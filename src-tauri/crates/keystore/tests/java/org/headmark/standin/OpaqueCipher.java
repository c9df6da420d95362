package org.headmark.standin;

import android.security.keystore.KeyPermanentlyInvalidatedException;
import java.security.AlgorithmParameters;
import java.security.GeneralSecurityException;
import java.security.InvalidAlgorithmParameterException;
import java.security.InvalidKeyException;
import java.security.Key;
import java.security.SecureRandom;
import java.security.spec.AlgorithmParameterSpec;
import javax.crypto.BadPaddingException;
import javax.crypto.Cipher;
import javax.crypto.CipherSpi;
import javax.crypto.IllegalBlockSizeException;
import javax.crypto.ShortBufferException;

/** The one cipher that takes an opaque key. The machine's own does the work. */
public final class OpaqueCipher extends CipherSpi {
    private final Cipher cipher;

    public OpaqueCipher() throws GeneralSecurityException {
        cipher = Cipher.getInstance("AES/GCM/NoPadding", "SunJCE");
    }

    private static Key inner(Key key) throws InvalidKeyException {
        if (!(key instanceof OpaqueKey)) {
            throw new InvalidKeyException("not a key of this key store");
        }
        OpaqueKey own = (OpaqueKey) key;
        if (own.spoiled.equals("invalid")) {
            throw new KeyPermanentlyInvalidatedException("invalid for good");
        }
        if (own.spoiled.equals("unfit")) {
            throw new InvalidKeyException("it does not suit");
        }
        return own.inner;
    }

    @Override
    protected void engineInit(int mode, Key key, SecureRandom random) throws InvalidKeyException {
        cipher.init(mode, inner(key));
    }

    @Override
    protected void engineInit(int mode, Key key, AlgorithmParameterSpec parameters, SecureRandom random)
            throws InvalidKeyException, InvalidAlgorithmParameterException {
        if (mode == Cipher.ENCRYPT_MODE) {
            throw new InvalidAlgorithmParameterException("nobody chooses the nonce");
        }
        cipher.init(mode, inner(key), parameters);
    }

    @Override
    protected void engineInit(int mode, Key key, AlgorithmParameters parameters, SecureRandom random) {
        throw new UnsupportedOperationException();
    }

    @Override
    protected void engineUpdateAAD(byte[] bytes, int from, int length) {
        cipher.updateAAD(bytes, from, length);
    }

    @Override
    protected byte[] engineDoFinal(byte[] bytes, int from, int length)
            throws IllegalBlockSizeException, BadPaddingException {
        return cipher.doFinal(bytes, from, length);
    }

    @Override
    protected byte[] engineGetIV() {
        return cipher.getIV();
    }

    @Override
    protected void engineSetMode(String mode) {
        throw new UnsupportedOperationException();
    }

    @Override
    protected void engineSetPadding(String padding) {
        throw new UnsupportedOperationException();
    }

    @Override
    protected int engineGetBlockSize() {
        return cipher.getBlockSize();
    }

    @Override
    protected int engineGetOutputSize(int length) {
        return cipher.getOutputSize(length);
    }

    @Override
    protected AlgorithmParameters engineGetParameters() {
        return cipher.getParameters();
    }

    @Override
    protected byte[] engineUpdate(byte[] bytes, int from, int length) {
        return cipher.update(bytes, from, length);
    }

    @Override
    protected int engineUpdate(byte[] bytes, int from, int length, byte[] to, int at) throws ShortBufferException {
        return cipher.update(bytes, from, length, to, at);
    }

    @Override
    protected int engineDoFinal(byte[] bytes, int from, int length, byte[] to, int at)
            throws ShortBufferException, IllegalBlockSizeException, BadPaddingException {
        return cipher.doFinal(bytes, from, length, to, at);
    }
}
