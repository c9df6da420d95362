package org.headmark.standin;

import java.security.Provider;
import java.security.Security;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import javax.crypto.spec.SecretKeySpec;

/**
 * A key store in memory that behaves as the platform's is documented to: its keys are opaque, only its own cipher takes
 * them, and nobody chooses a nonce for it. How it is in the mood for an alias is for the tests to say.
 */
public final class StandIn extends Provider {
    private static final long serialVersionUID = 1;
    private static final String NAME = "StandInKeyStore";
    private static final String CIPHER = "Cipher.AES/GCM/NoPadding";

    static final Map<String, OpaqueKey> KEYS = new ConcurrentHashMap<>();
    private static final Map<String, String> MOODS = new ConcurrentHashMap<>();
    private static final Map<String, List<String>> MADE = new ConcurrentHashMap<>();

    private StandIn() {
        super(NAME, "1", "a key store for tests");
        put("KeyStore." + NAME, OpaqueStore.class.getName());
        put("KeyGenerator.AES", OpaqueGenerator.class.getName());
        put(CIPHER, OpaqueCipher.class.getName());
        put(CIPHER + " SupportedKeyClasses", OpaqueKey.class.getName());
    }

    /** Takes its place among the providers. */
    public static void begin() {
        Security.addProvider(new StandIn());
    }

    /** How it is in the mood for an alias: old, no chip, busy, no key; an empty word for none of these. */
    public static void mood(String alias, String mood) {
        MOODS.put(alias, mood);
    }

    public static boolean is(String alias, String mood) {
        return mood.equals(MOODS.get(alias));
    }

    /** Spoils the key that is there now: unrecoverable, invalid, unfit. */
    public static void spoil(String alias, String how) {
        KEYS.get(alias).spoiled = how;
    }

    /** Removes the key. */
    public static void forget(String alias) {
        KEYS.remove(alias);
    }

    /** Puts a key there that the tests know. */
    public static void plant(String alias, byte[] key) {
        KEYS.put(alias, new OpaqueKey(new SecretKeySpec(key, "AES")));
    }

    /** The words with which keys were made, a line each. */
    public static String made(String alias) {
        return String.join("\n", MADE.getOrDefault(alias, List.of()));
    }

    static void note(String alias, String told) {
        MADE.computeIfAbsent(alias, none -> new CopyOnWriteArrayList<>()).add(told);
    }
}
