package android.security.keystore;

import java.security.InvalidKeyException;

/** Stands in for the platform's class of this name. */
public final class KeyPermanentlyInvalidatedException extends InvalidKeyException {
    private static final long serialVersionUID = 1;

    public KeyPermanentlyInvalidatedException(String message) {
        super(message);
    }
}
