package org.headmark.standin;

import java.io.InputStream;
import java.io.OutputStream;
import java.security.Key;
import java.security.KeyStoreSpi;
import java.security.UnrecoverableKeyException;
import java.security.cert.Certificate;
import java.util.Collections;
import java.util.Date;
import java.util.Enumeration;

/** Gives out keys by their alias. */
public final class OpaqueStore extends KeyStoreSpi {
    @Override
    public Key engineGetKey(String alias, char[] password) throws UnrecoverableKeyException {
        if (StandIn.is(alias, "busy")) {
            UnrecoverableKeyException failed = new UnrecoverableKeyException("not just now");
            failed.initCause(new IllegalStateException("the store is starting"));
            throw failed;
        }
        OpaqueKey key = StandIn.KEYS.get(alias);
        if (key != null && key.spoiled.equals("unrecoverable")) {
            throw new UnrecoverableKeyException("there is nothing behind this entry");
        }
        return key;
    }

    @Override
    public void engineDeleteEntry(String alias) {
        StandIn.forget(alias);
    }

    @Override
    public void engineLoad(InputStream stream, char[] password) {
        if (stream != null || password != null) {
            throw new UnsupportedOperationException();
        }
    }

    @Override
    public Enumeration<String> engineAliases() {
        return Collections.enumeration(StandIn.KEYS.keySet());
    }

    @Override
    public boolean engineContainsAlias(String alias) {
        return StandIn.KEYS.containsKey(alias);
    }

    @Override
    public int engineSize() {
        return StandIn.KEYS.size();
    }

    @Override
    public boolean engineIsKeyEntry(String alias) {
        return engineContainsAlias(alias);
    }

    @Override
    public boolean engineIsCertificateEntry(String alias) {
        return false;
    }

    @Override
    public Certificate[] engineGetCertificateChain(String alias) {
        return null;
    }

    @Override
    public Certificate engineGetCertificate(String alias) {
        return null;
    }

    @Override
    public String engineGetCertificateAlias(Certificate certificate) {
        return null;
    }

    @Override
    public Date engineGetCreationDate(String alias) {
        return null;
    }

    @Override
    public void engineSetKeyEntry(String alias, Key key, char[] password, Certificate[] chain) {
        throw new UnsupportedOperationException();
    }

    @Override
    public void engineSetKeyEntry(String alias, byte[] key, Certificate[] chain) {
        throw new UnsupportedOperationException();
    }

    @Override
    public void engineSetCertificateEntry(String alias, Certificate certificate) {
        throw new UnsupportedOperationException();
    }

    @Override
    public void engineStore(OutputStream stream, char[] password) {
        throw new UnsupportedOperationException();
    }
}
