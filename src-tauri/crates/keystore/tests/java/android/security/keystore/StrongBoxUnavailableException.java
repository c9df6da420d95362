package android.security.keystore;

import java.security.ProviderException;

/** Stands in for the platform's class of this name. */
public final class StrongBoxUnavailableException extends ProviderException {
    private static final long serialVersionUID = 1;

    public StrongBoxUnavailableException(String message) {
        super(message);
    }
}
