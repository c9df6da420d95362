package android.security.keystore;

import java.security.spec.AlgorithmParameterSpec;
import java.util.StringJoiner;
import org.headmark.standin.StandIn;

/** Stands in for the platform's class of this name: it keeps in words what it was told. */
public final class KeyGenParameterSpec implements AlgorithmParameterSpec {
    private final String alias;
    private final String told;
    private final boolean strongBox;

    private KeyGenParameterSpec(String alias, String told, boolean strongBox) {
        this.alias = alias;
        this.told = told;
        this.strongBox = strongBox;
    }

    public String alias() {
        return alias;
    }

    public String told() {
        return told;
    }

    public boolean strongBox() {
        return strongBox;
    }

    /** Takes the methods that the key store is asked with, and no other. */
    public static final class Builder {
        private final String alias;
        private final StringJoiner told = new StringJoiner(", ");
        private boolean strongBox;

        public Builder(String alias, int purposes) {
            this.alias = alias;
            told.add("purposes " + purposes);
        }

        public Builder setBlockModes(String... modes) {
            told.add("modes " + String.join("+", modes));
            return this;
        }

        public Builder setEncryptionPaddings(String... paddings) {
            told.add("paddings " + String.join("+", paddings));
            return this;
        }

        public Builder setKeySize(int bits) {
            told.add("bits " + bits);
            return this;
        }

        public Builder setRandomizedEncryptionRequired(boolean required) {
            told.add("randomized " + required);
            return this;
        }

        public Builder setIsStrongBoxBacked(boolean yes) {
            if (StandIn.is(alias, "old")) {
                throw new NoSuchMethodError("setIsStrongBoxBacked");
            }
            strongBox = yes;
            told.add("strong box " + yes);
            return this;
        }

        public KeyGenParameterSpec build() {
            return new KeyGenParameterSpec(alias, told.toString(), strongBox);
        }
    }
}
